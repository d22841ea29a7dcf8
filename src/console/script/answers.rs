//! A file of answers.
//!
//! ```toml
//! format = 1
//! start  = 2031-04-05T09:00:00-05:00      # what the clock shows at the beginning
//!
//! [[answer]]
//! step  = "air_found"
//! asks  = "Air pressure at the tank's air valve"    # must be in the question or above it
//! after = "5 min"                                   # the clock moves on before the first answer
//! give  = ["38", "38.5", "38"]                      # one text, or one for each time it is asked
//! ```

use std::time::Duration;

use thiserror::Error;

use crate::clock::Moment;
use crate::document::{Fields, read_document};
use crate::quantity::{Family, Unreadable, read_number};
use crate::source::{Fault, Quoted, SourceText, Span};

/// What is missing where an answer gives nothing.
const GIVE: &str = "what is typed, or a list of it; for Enter alone write `give = \"\"`";

/// One `[[answer]]`.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ScriptedAnswer {
    pub step: Quoted,
    pub give: Vec<Quoted>,
    pub asks: Option<Quoted>,
    /// How far the clock moves first, and where that stands.
    pub after: Option<(Duration, Span)>,
}

/// A file of answers that was found sound.
#[derive(Clone, Debug)]
pub struct Script {
    pub(super) source: SourceText,
    pub(super) answers: Vec<ScriptedAnswer>,
    pub(super) start: Moment,
}

impl Script {
    /// What the clock shows at the beginning.
    pub fn start(&self) -> Moment {
        self.start
    }

    /// Reads a file of answers.
    ///
    /// # Errors
    /// All faults of the file, in the order in which they stand in it.
    ///
    /// ```
    /// use tankhand::console::Script;
    /// use tankhand::source::SourceText;
    /// let text = "format = 1\nstart = 2031-04-05T09:00:00-05:00\n[[answer]]\nstep = \"jar\"\ngive = \"38\"\n";
    /// let script = Script::load(&SourceText::new("answers.toml", text)).unwrap();
    /// assert_eq!(script.start().to_string(), "2031-04-05T09:00:00-05:00");
    /// ```
    pub fn load(source: &SourceText) -> Result<Script, Vec<Fault>> {
        let (script, mut faults) = read_document(source, script)?;
        Fault::sort(&mut faults);
        match script {
            Some(script) if faults.is_empty() => Ok(script),
            _ => Err(faults),
        }
    }
}

fn script(root: &Fields<'_>) -> Option<Script> {
    root.only(&["format", "start", "answer"]);
    root.check_format();
    if !root.has("start") {
        root.missing("start", "what the clock shows at the beginning, such as 2031-04-05T09:00:00-05:00");
    }
    let start = root.moment("start");
    let answers = root.tables("answer").iter().map(answer).collect::<Vec<_>>();
    Some(Script {
        source: root.source().clone(),
        answers: answers.into_iter().collect::<Option<_>>()?,
        start: start?,
    })
}

fn answer(fields: &Fields<'_>) -> Option<ScriptedAnswer> {
    fields.only(&["step", "give", "asks", "after"]);
    let step = fields.needed_text("step", "the id of the step that is answered");
    let give = give(fields);
    let asks = fields.text("asks");
    [&step, &asks].into_iter().flatten().for_each(|text| on_one_line(fields, text));
    let after = after(fields);
    Some(ScriptedAnswer { step: step?, give: give?, asks, after })
}

/// What is typed: one text, or one for each time it is asked.
fn give(fields: &Fields<'_>) -> Option<Vec<Quoted>> {
    let texts = match fields.is_list("give") {
        true => fields.texts("give"),
        false => vec![fields.needed_text("give", GIVE)?],
    };
    texts.iter().for_each(|text| on_one_line(fields, text));
    if texts.is_empty() {
        fields.missing("give", GIVE);
    }
    Some(texts)
}

/// Notes a text with a line end in it: nobody can type one.
fn on_one_line(fields: &Fields<'_>, text: &Quoted) {
    if text.text.contains('\n') {
        let fault = Fault::new("line-end", &text.source, text.span, "this text holds a line end");
        fields.walk().fault(fault.remedy("write it on one line"));
    }
}

/// Why a text is no time for the clock to move.
#[derive(Debug, Error)]
enum NoTime {
    #[error(transparent)]
    Unreadable(#[from] Unreadable),
    #[error("The time has no unit.")]
    NoUnit,
    #[error("The clock cannot move that far.")]
    TooFar,
}

fn after(fields: &Fields<'_>) -> Option<(Duration, Span)> {
    let read = |text: &str| {
        let typed = read_number(text, Family::Time)?;
        let unit = typed.unit.ok_or(NoTime::NoUnit)?;
        Duration::try_from_secs_f64(typed.number * unit.size).map_err(|_| NoTime::TooFar)
    };
    let remedy = "write a number and a unit of time, such as `after = \"5 min\"`";
    fields.read("after", read, remedy).map(|length| (length, fields.value_span("after")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const TOP: &str = "format = 1\nstart = \"2031-04-05T09:00:00-05:00\"\n";

    fn faults(text: &str) -> Vec<String> {
        match Script::load(&SourceText::new("answers.toml", text)) {
            Ok(_) => vec!["sound".to_string()],
            Err(faults) => faults
                .iter()
                .map(|fault| {
                    format!("{} ({})", fault.heading(), fault.remedy.as_deref().unwrap_or("no remedy"))
                })
                .collect(),
        }
    }

    #[test]
    fn a_sound_file_is_read() {
        let body =
            "[[answer]]\nstep = \"air\"\ngive = [\"38\", \"38.5\"]\nasks = \"Air\"\nafter = \"1 min 30 s\"\n";
        let script = Script::load(&SourceText::new("a.toml", format!("{TOP}{body}"))).unwrap();
        let answer = &script.answers[0];
        assert_eq!(answer.give.iter().map(|g| g.text.as_str()).collect::<Vec<_>>(), ["38", "38.5"]);
        assert_eq!(answer.after.unwrap().0, Duration::from_secs(90));
        assert_eq!(script.source.slice(answer.asks.as_ref().unwrap().span), "\"Air\"");
    }

    #[test]
    fn all_faults_come_at_once_with_place_and_remedy() {
        let text = "format = 2\nstart = 2031-04-05T09:00:00\nstrat = 1\n[[answer]]\nstep = 3\ngive = []\n\
                    after = \"5\"\n[[answer]]\nsteps = \"x\"\nafter = \"5 psi\"\nasks = \"a\\nb\"\n";
        let give = "`give` is missing here (add `give = …`: what is typed, or a list of it; for Enter alone \
                    write `give = \"\"`)";
        let after = "`after` cannot be what stands here (write a number and a unit of time, such as \
                     `after = \"5 min\"`)";
        let expected = [
            "1:10: this file is of format 2, and this program reads format 1 (use a newer program, or write the \
             file in format 1)",
            "2:9: `start` is no date and time with its offset from UTC (write it like 2031-04-05T09:00:00-05:00)",
            "3:1: there is no key `strat` here (did you mean `start`?)",
            &format!("4:1: {give}"),
            "5:8: `step` should be a text in quotes, and this is a whole number (write `step = \"3\"`)",
            &format!("7:9: {after}"),
            &format!("8:1: {give}"),
            "8:1: `step` is missing here (add `step = …`: the id of the step that is answered)",
            "9:1: there is no key `steps` here (did you mean `step`?)",
            &format!("10:9: {after}"),
            "11:8: this text holds a line end (write it on one line)",
        ];
        let expected: Vec<String> = expected.iter().map(|fault| format!("answers.toml:{fault}")).collect();
        assert_eq!(faults(text), expected);
    }

    #[test]
    fn what_is_missing_or_no_toml_is_told() {
        assert_eq!(
            faults(""),
            [
                "answers.toml:1:1: `format` is missing here (add `format = …`: write `format = 1` at the top)",
                "answers.toml:1:1: `start` is missing here (add `start = …`: what the clock shows at the beginning, \
                 such as 2031-04-05T09:00:00-05:00)",
            ]
        );
        assert_eq!(faults(TOP), ["sound"]);
        let wrong = "answers.toml:3:10: `answer` should be a list of tables, each under `[[answer]]`, and this is a \
                     whole number (write a list of tables, each under `[[answer]]`)";
        assert_eq!(faults(&format!("{TOP}answer = 3")), [wrong]);
        assert_eq!(faults("format = \n").len(), 1);
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused_without_panic(text in "[\\[\\]a-z=\"' \n0-9.,{}#\\\\-]{0,120}") {
            let _ = Script::load(&SourceText::new("a.toml", format!("{TOP}{text}")));
        }
    }
}
