//! A line as it is typed: waited for, edited, finished by Tab, and taken off the screen again.

use std::io;
use std::time::Duration;

use dialoguer::{Completion, Input};

use super::face::RichFace;
use crate::console::choice::completed;
use crate::console::face::{Block, Command, Ended, Prompt, ReplyKind};
use crate::console::not_accepted::NotAccepted;
use crate::console::parts::{GO_ON, PAUSE, Pause, understand_pause};
use crate::machine::{KeyMode, key_comes};
use crate::quantity::{Measure, read_number};

/// How long a key is waited for before it is looked whether the program was told to end.
const LONGEST_WAIT_FOR_KEY: Duration = Duration::from_millis(250);

/// Columns of a prompt's row beside its words: two before, the marker, one kept free.
pub(super) const BESIDE_PROMPT: usize = 5;

impl RichFace {
    /// Lets a line be typed and takes it off the screen again.
    pub(super) fn line(&mut self, inline: &str, prompt: &Prompt) -> Result<String, Ended> {
        let look = self.look();
        let words = TabWords::of(prompt);
        let earlier = to_edit(prompt);
        self.wait_for_key(&format!("{}{earlier}", look.before_cursor(inline)))?;
        let mut input = Input::with_theme(&look)
            .with_prompt(inline)
            .allow_empty(true)
            .report(false)
            .with_initial_text(earlier)
            .completion_with(&words);
        // A word that shows that a warning was read is typed anew each time.
        if !matches!(prompt.expects, ReplyKind::Word(_)) {
            input = input.history_with(&mut self.history);
        }
        let typed: String = input.interact_text_on(&self.term).map_err(|error| self.ended(error))?;
        // The prompt library takes only the last row of a long line away.
        self.take_away(
            console::measure_text_width(inline) + BESIDE_PROMPT + console::measure_text_width(&typed),
        )?;
        Ok(typed)
    }

    /// Shows lines in parts, with a pause after each.
    pub(super) fn show_in_parts(&mut self, lines: &[String], most: usize) -> io::Result<()> {
        let mut left = self.paper.part(lines, most, true)?;
        while !left.is_empty() && self.pause(PAUSE)? == Some(Pause::More) {
            left = self.paper.part(left, most, false)?;
        }
        Ok(())
    }

    /// Waits until what stands there was read.
    pub(super) fn pause_to_read(&mut self) -> io::Result<()> {
        self.pause(GO_ON)?;
        self.paper.was_read();
        Ok(())
    }

    /// Waits for Enter; nothing where the program was told to end.
    fn pause(&mut self, words: &str) -> io::Result<Option<Pause>> {
        let keys = KeyMode::hold()?;
        keys.forget_typed_ahead();
        let prompt = Prompt::new("", words, ReplyKind::Enter);
        loop {
            let typed = match self.line(words, &prompt) {
                Ok(typed) => typed,
                Err(Ended::Io(error)) => return Err(error),
                // What ended it is seen at the next question.
                Err(_) => return Ok(None),
            };
            let several = key_comes(Duration::ZERO)?;
            if several {
                keys.forget_typed_ahead();
            }
            match if several { Err(NotAccepted::SeveralLines) } else { understand_pause(words, &typed) } {
                Ok(pause) => return Ok(Some(pause)),
                Err(why) => self.paper.show(&Block::Refusal(why.to_string()))?,
            }
        }
    }

    /// Shows the question and waits until a key is there, then takes it away again.
    ///
    /// The prompt library waits without a limit: a signal that came just before would go unseen
    /// until the next key. Here it is looked for again and again.
    fn wait_for_key(&mut self, shown: &str) -> Result<(), Ended> {
        if key_comes(Duration::ZERO)? {
            return Ok(());
        }
        self.term.write_str(shown)?;
        let mut overdue = 0;
        while !key_comes(LONGEST_WAIT_FOR_KEY)? {
            self.title_overdue(&mut overdue)?;
            match self.heed_keys() {
                Ok(false) => {}
                Ok(true) => self.term.write_str(shown)?,
                Err(ended) => {
                    self.term.write_line("")?;
                    return Err(ended);
                }
            }
        }
        self.take_away(console::measure_text_width(shown))?;
        Ok(())
    }

    /// Takes a line of so many columns off the screen, the cursor being in its last row.
    fn take_away(&self, width: usize) -> io::Result<()> {
        self.term.clear_line()?;
        let rows = width.saturating_sub(1) / self.columns().max(1);
        if rows > 0 {
            self.term.move_cursor_up(rows)?;
            self.term.clear_to_end_of_screen()?;
        }
        Ok(())
    }
}

/// The earlier answer, to be edited where it is free text. A number is typed anew: digits added
/// to an old number make a wrong one.
pub(super) fn to_edit(prompt: &Prompt) -> &str {
    match (&prompt.expects, &prompt.earlier) {
        (ReplyKind::Line, Some(earlier)) if !is_number(earlier) => earlier,
        _ => "",
    }
}

/// Whether a text is a number, bare or with any unit.
fn is_number(text: &str) -> bool {
    Measure::all().any(|measure| read_number(text, measure.family()).is_ok())
}

/// The words that Tab finishes: commands, and the choices there are.
struct TabWords<'a>(Vec<&'a str>);

impl<'a> TabWords<'a> {
    fn of(prompt: &'a Prompt) -> TabWords<'a> {
        let commands = prompt.commands.iter().map(|command| match command {
            Command::Note => "note ",
            Command::Skip => "skip ",
            Command::Amend => "amend ",
            other => other.word(),
        });
        let choices: &[(String, String)] = match &prompt.expects {
            ReplyKind::OneOf(options) => options,
            _ => &[],
        };
        TabWords(choices.iter().map(|(value, _)| value.as_str()).chain(commands).collect())
    }
}

impl Completion for TabWords<'_> {
    fn get(&self, input: &str) -> Option<String> {
        completed(input, self.0.iter().copied())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn prompt(expects: ReplyKind) -> Prompt {
        let commands = vec![Command::Why, Command::Note, Command::Pause];
        Prompt { commands, ..Prompt::new("jar", "water", expects) }
    }

    #[test]
    fn tab_finishes_commands_and_choices() {
        let typed = ["n", "PA", "", "c", "cle", "38"];
        let finished = |expects| {
            let prompt = prompt(expects);
            let words = TabWords::of(&prompt);
            typed.map(|typed| words.get(typed).unwrap_or_default())
        };
        assert_eq!(finished(ReplyKind::Line), ["note ", "pause", "", "", "", ""]);
        let water = ["clear", "cloudy"].map(|word| (word.to_string(), String::new()));
        assert_eq!(finished(ReplyKind::OneOf(water.into())), ["note ", "pause", "", "cl", "clear", ""]);
        assert_eq!(finished(ReplyKind::Word("clear".into())), ["note ", "pause", "", "", "", ""]);
    }

    #[test]
    fn only_free_text_is_there_to_edit() {
        let edited = |earlier: &str, expects| {
            let prompt = Prompt { earlier: Some(earlier.into()), ..prompt(expects) };
            to_edit(&prompt).to_string()
        };
        let left = ["5", "38.5 psi", "1 min 30 s", "2,6 bar", "0417, no date", "M. Example"];
        let left = left.map(|earlier| edited(earlier, ReplyKind::Line));
        assert_eq!(left, ["", "", "", "", "0417, no date", "M. Example"]);
        assert_eq!(edited("clear", ReplyKind::OneOf(Vec::new())), "");
    }
}
