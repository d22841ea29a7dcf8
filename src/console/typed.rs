//! What a typed line means at a prompt: an answer, a command, or nothing that can be taken.
//!
//! Every face hands its lines through [`understand`], so that a terminal, a pipe and a script
//! accept exactly the same things.

use super::choice::no_such_choice;
use super::face::{Command, Prompt, Reply, ReplyKind};
use super::not_accepted::NotAccepted;
use crate::words::{chosen, is_done, is_harmless};

/// Understands one line typed at a prompt.
///
/// A command is taken only where the prompt allows it. For a line of text, double quotes round
/// the whole answer take it literally, so that the word `back` can be an answer. `note` and
/// `skip` never come back without words.
///
/// # Errors
/// [`NotAccepted`], which says why the line is not taken and what to type instead.
///
/// ```
/// use tankhand::console::{Command, NotAccepted, Prompt, Reply, ReplyKind, understand};
/// let mut prompt = Prompt::new("air_found", "pressure, psi", ReplyKind::Line);
/// prompt.commands = vec![Command::Why, Command::Note];
/// assert_eq!(understand("38 psi", &prompt), Ok(Reply::Text("38 psi".into())));
/// assert_eq!(understand("Note it drips", &prompt), Ok(Reply::Command(Command::Note, "it drips".into())));
/// assert_eq!(understand("pause", &prompt), Err(NotAccepted::NotOffered("pause")));
/// ```
pub fn understand(line: &str, prompt: &Prompt) -> Result<Reply, NotAccepted> {
    if !is_harmless(line) {
        return Err(NotAccepted::Unshowable);
    }
    let text = line.trim();
    if let Some(inner) = quoted(text) {
        return answer(inner, prompt, true);
    }
    match command_in(text, prompt) {
        Some((command, words)) => allowed(command, words, prompt),
        None => answer(text, prompt, false),
    }
}

/// What stands between the double quotes that enclose a whole text.
fn quoted(text: &str) -> Option<&str> {
    text.strip_prefix('"')?.strip_suffix('"')
}

/// The command a line begins with, and the words after it.
///
/// Only `note`, `skip` and `amend` take words; `back valve` is not a command.
fn command_in<'a>(text: &'a str, prompt: &Prompt) -> Option<(Command, &'a str)> {
    let (first, rest) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    let rest = rest.trim();
    let command = match first.to_lowercase().as_str() {
        "??" => Command::Why,
        "h" | "help" if !is_choice(text, prompt) => Command::Why,
        word => Command::ALL.into_iter().find(|command| command.word() == word)?,
    };
    let takes_words = matches!(command, Command::Note | Command::Skip | Command::Amend);
    (takes_words || rest.is_empty()).then_some((command, rest))
}

/// Whether a text means one of the choices.
fn is_choice(text: &str, prompt: &Prompt) -> bool {
    matches!(&prompt.expects, ReplyKind::OneOf(options) if chosen(text, options).is_some())
}

fn allowed(command: Command, words: &str, prompt: &Prompt) -> Result<Reply, NotAccepted> {
    if !prompt.commands.contains(&command) {
        return Err(NotAccepted::NotOffered(command.word()));
    }
    match (command, words) {
        (Command::Note, "") => Err(NotAccepted::NoRemark),
        (Command::Skip, "") => Err(NotAccepted::NoReason),
        (Command::Amend, "") => Err(NotAccepted::NoNumber),
        _ => Ok(Reply::Command(command, words.to_string())),
    }
}

fn answer(text: &str, prompt: &Prompt, literal: bool) -> Result<Reply, NotAccepted> {
    let text = match (&prompt.usual, text, literal) {
        (Some(usual), "", false) if !matches!(prompt.expects, ReplyKind::Word(_)) => usual.as_str(),
        _ => text,
    };
    if let Some(word) = prompt.otherwise.as_ref().filter(|word| word.eq_ignore_ascii_case(text)) {
        return Ok(Reply::Text(word.clone()));
    }
    match &prompt.expects {
        ReplyKind::Line => Ok(Reply::Text(text.to_string())),
        ReplyKind::Enter if is_done(text) => Ok(Reply::Text(String::new())),
        ReplyKind::Enter => Err(NotAccepted::NotEnter(text.to_string())),
        ReplyKind::Word(word) if text.to_lowercase() == word.to_lowercase() => Ok(Reply::Text(word.clone())),
        ReplyKind::Word(word) => {
            Err(NotAccepted::NotTheWord { word: word.clone(), otherwise: prompt.otherwise.clone() })
        }
        ReplyKind::OneOf(options) => match chosen(text, options) {
            Some(at) => Ok(Reply::Text(options[at].0.clone())),
            None => Err(NotAccepted::NoSuchChoice(no_such_choice(text, options))),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn prompt(expects: ReplyKind) -> Prompt {
        Prompt { commands: Command::ALL.to_vec(), ..Prompt::new("jar", "water", expects) }
    }

    fn one_of(values: &[(&str, &str)]) -> ReplyKind {
        ReplyKind::OneOf(values.iter().map(|(v, w)| (v.to_string(), w.to_string())).collect())
    }

    fn shown(line: &str, prompt: &Prompt) -> String {
        match understand(line, prompt) {
            Ok(Reply::Text(text)) => format!("text [{text}]"),
            Ok(Reply::Command(command, words)) => format!("{command:?} [{words}]"),
            Err(why) => format!("no: {why}"),
        }
    }

    fn holds(expects: ReplyKind, table: &[(&str, &str)]) {
        let prompt = prompt(expects);
        for (line, expected) in table {
            assert_eq!(shown(line, &prompt), *expected, "for `{line}`");
        }
    }

    #[test]
    fn lines_of_text_and_commands() {
        holds(
            ReplyKind::Line,
            &[
                (" 38 psi ", "text [38 psi]"),
                ("", "text []"),
                ("?", "Why []"),
                ("HELP", "Why []"),
                ("h", "Why []"),
                ("Back", "Back []"),
                ("back valve", "text [back valve]"),
                ("note  the valve drips", "Note [the valve drips]"),
                ("note", "no: Type the remark on the same line, such as: note the valve drips"),
                ("skip", "no: Type the reason on the same line, such as: skip no gauge at hand"),
                ("skip no gauge", "Skip [no gauge]"),
                ("notes", "text [notes]"),
                ("PAUSE", "Pause []"),
                ("\"back\"", "text [back]"),
                ("\" \"", "text [ ]"),
                ("\"\"", "text []"),
                ("\"", "text [\"]"),
                (
                    "38\u{1b}[A",
                    "no: There are characters in it that cannot be shown, perhaps from an arrow or \
                     function key. Type it again.",
                ),
            ],
        );
    }

    #[test]
    fn enter_and_the_word_for_a_warning() {
        holds(
            ReplyKind::Enter,
            &[
                ("", "text []"),
                ("Done", "text []"),
                ("38", "no: `38` is not expected here: press Enter when it is done."),
                ("back", "Back []"),
            ],
        );
        holds(
            ReplyKind::Word("understood".into()),
            &[
                ("Understood", "text [understood]"),
                ("", "no: Nothing goes on until the whole word `understood` is typed."),
                ("under", "no: Nothing goes on until the whole word `understood` is typed."),
                ("pause", "Pause []"),
            ],
        );
    }

    #[test]
    fn choices_by_number_word_and_start() {
        let water = one_of(&[("clear", "no grit"), ("cloudy", "a haze"), ("dirty", "grit settles")]);
        holds(
            water,
            &[
                ("1", "text [clear]"),
                ("DIRTY", "text [dirty]"),
                ("clo", "text [cloudy]"),
                ("a haze", "text [cloudy]"),
                ("grit", "text [dirty]"),
                ("cl", "no: `cl` could mean `clear` or `cloudy`: type more of it."),
                ("4", "no: `4` is none of these: clear, cloudy or dirty."),
                ("dirtty", "no: `dirtty` is none of them: did you mean `dirty`?"),
                ("", "no: Type the number or the word of one of them (1 to 3)."),
                ("h", "Why []"),
            ],
        );
    }

    #[test]
    fn choices_that_are_numbers_get_letters_and_values_win_over_aliases() {
        let plate = one_of(&[("20", "gallons"), ("2", "half"), ("hot", "")]);
        holds(
            plate,
            &[
                ("2", "text [2]"),
                ("a", "text [20]"),
                ("b", "text [2]"),
                ("h", "text [hot]"),
                ("1", "no: `1` is none of these: 20, 2 or hot."),
            ],
        );
    }

    #[test]
    fn an_empty_line_gives_the_usual_answer_but_never_says_that_a_warning_was_read() {
        let mut usual = prompt(ReplyKind::Line);
        usual.usual = Some("38".into());
        assert_eq!(shown("", &usual), "text [38]");
        assert_eq!(shown("\"\"", &usual), "text []");
        usual.expects = ReplyKind::Word("understood".into());
        usual.usual = Some("understood".into());
        assert_eq!(shown("", &usual), "no: Nothing goes on until the whole word `understood` is typed.");
    }

    #[test]
    fn commands_only_where_they_are_allowed() {
        let mut few = prompt(ReplyKind::Line);
        few.commands = vec![Command::Why];
        assert_eq!(shown("back", &few), "no: `back` cannot be used here.");
        assert_eq!(shown("skip x", &few), "no: `skip` cannot be used here.");
    }

    proptest! {
        #[test]
        fn quotes_take_any_harmless_text_literally(text in "[^\\p{C}]{0,40}") {
            prop_assume!(is_harmless(&text));
            let got = understand(&format!("\"{text}\""), &prompt(ReplyKind::Line));
            prop_assert_eq!(got, Ok(Reply::Text(text)));
        }

        #[test]
        fn a_choice_is_always_one_of_the_values(line in "\\PC{0,12}") {
            let expects = one_of(&[("clear", "no grit"), ("cloudy", "a haze"), ("15", "")]);
            if let Ok(Reply::Text(value)) = understand(&line, &prompt(expects)) {
                prop_assert!(["clear", "cloudy", "15"].contains(&value.as_str()));
            }
        }
    }
}
