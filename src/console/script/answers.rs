//! The file of answers, read and proved.
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

use super::reader::Reader;
use crate::clock::Moment;
use crate::source::{Fault, SourceText, Span};

/// A piece of the file and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Located<T> {
    pub value: T,
    pub span: Span,
}

/// One `[[answer]]`.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Answer {
    pub step: Located<String>,
    pub give: Vec<Located<String>>,
    pub asks: Option<Located<String>>,
    pub after: Option<Located<Duration>>,
}

/// A file of answers that was found sound.
#[derive(Clone, Debug)]
pub struct Script {
    pub(super) source: SourceText,
    pub(super) answers: Vec<Answer>,
    pub(super) start: Moment,
}

impl Script {
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
        Reader::new(source).read()
    }

    /// What the clock shows at the beginning.
    pub fn start(&self) -> Moment {
        self.start
    }
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
        assert_eq!(answer.give.iter().map(|g| g.value.as_str()).collect::<Vec<_>>(), ["38", "38.5"]);
        assert_eq!(answer.after.as_ref().unwrap().value, Duration::from_secs(90));
        assert_eq!(script.source.slice(answer.asks.as_ref().unwrap().span), "\"Air\"");
    }

    #[test]
    fn all_faults_come_at_once_with_place_and_remedy() {
        let text = "format = 2\nstart = 2031-04-05T09:00:00\nstrat = 1\n[[answer]]\nstep = 3\ngive = []\n\
                    after = \"5\"\n[[answer]]\nsteps = \"x\"\nafter = \"5 psi\"\nasks = \"a\\nb\"\n";
        let expected = [
            "answers.toml:1:10: this format is not known (write `format = 1` at the top of the file)",
            "answers.toml:2:9: this is no date and time with an offset (write it like \
             `start = 2031-04-05T09:00:00-05:00`, with the offset from UTC)",
            "answers.toml:3:1: there is no key `strat` here (did you mean `start`?)",
            "answers.toml:5:8: `step` must be a text (put it in double quotes, as a person would type it)",
            "answers.toml:6:8: `give` is an empty list (for Enter alone write `give = \"\"`)",
            "answers.toml:7:9: the time has no unit (write a number and a unit of time, such as `after = \"5 min\"`)",
            "answers.toml:8:1: this answer does not say what is answered (add `give = \"...\"`; for Enter alone \
             write `give = \"\"`)",
            "answers.toml:8:1: this answer does not say which step it is for (add `step = \"...\"` with the \
             step's id)",
            "answers.toml:9:1: there is no key `steps` here (did you mean `step`?)",
            "answers.toml:10:9: psi measures a gauge pressure, and a duration is wanted: s, min, h or day (write a \
             number and a unit of time, such as `after = \"5 min\"`)",
            "answers.toml:11:8: `asks` holds a line end or a character that cannot be shown (write it on one \
             line, without control characters)",
        ];
        assert_eq!(faults(text), expected);
    }

    #[test]
    fn what_is_missing_or_no_toml_is_told() {
        assert_eq!(
            faults(""),
            [
                "answers.toml:1:1: the file does not say its format (write `format = 1` at the top of the file)",
                "answers.toml:1:1: the file does not say when the clock starts (write it like \
                 `start = 2031-04-05T09:00:00-05:00`, with the offset from UTC)",
            ]
        );
        assert_eq!(faults(TOP), ["sound"]);
        assert_eq!(
            faults(&format!("{TOP}answer = 3")),
            [
                "answers.toml:3:10: `answer` must be a list of tables (begin each answer with a line `[[answer]]`)"
            ]
        );
        assert_eq!(faults("format = \n").len(), 1);
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused_without_panic(text in "[\\[\\]a-z=\"' \n0-9.,{}#\\\\-]{0,120}") {
            let _ = Script::load(&SourceText::new("a.toml", format!("{TOP}{text}")));
        }
    }
}
