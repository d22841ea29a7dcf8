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

use std::borrow::Cow;
use std::time::Duration;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::clock::Moment;
use crate::quantity::{Family, read_number};
use crate::source::{Fault, SourceText, Span};
use crate::words::{did_you_mean, is_harmless};

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
    start: Moment,
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
        let mut reader = Reader { source, faults: Vec::new() };
        let script = reader.file();
        Fault::sort(&mut reader.faults);
        match script {
            Some(script) if reader.faults.is_empty() => Ok(script),
            _ => Err(reader.faults),
        }
    }

    /// What the clock shows at the beginning.
    pub fn start(&self) -> Moment {
        self.start
    }
}

type Table<'i> = DeTable<'i>;
type Value<'i> = Spanned<DeValue<'i>>;

struct Reader<'s> {
    source: &'s SourceText,
    faults: Vec<Fault>,
}

impl Reader<'_> {
    fn fault(
        &mut self,
        code: &'static str,
        span: Span,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) {
        self.faults.push(Fault::new(code, self.source, span, message).remedy(remedy));
    }

    fn file(&mut self) -> Option<Script> {
        let source = self.source.clone();
        let root = match DeTable::parse(source.text()) {
            Ok(root) => root,
            Err(error) => {
                let span = error.span().map_or(Span::new(0, 0), Span::from);
                self.fault("not-toml", span, error.message(), "write it as TOML asks");
                return None;
            }
        };
        let whole = Span::from(root.span());
        let root = root.into_inner();
        self.keys(&root, &["format", "start", "answer"]);
        self.format(&root, whole);
        let start = self.start(&root, whole);
        let answers = self.answers(&root);
        Some(Script { source, answers: answers?, start: start? })
    }

    /// Faults every key that does not belong.
    fn keys(&mut self, table: &Table<'_>, known: &[&str]) {
        for (key, _) in table.iter() {
            let word = key.get_ref();
            if !known.contains(&word.as_ref()) {
                let span = Span::from(key.span());
                self.fault(
                    "unknown-key",
                    span,
                    format!("there is no key `{word}` here"),
                    did_you_mean(word, known),
                );
            }
        }
    }

    fn format(&mut self, root: &Table<'_>, whole: Span) {
        let remedy = "write `format = 1` at the top of the file";
        match root.get("format") {
            None => self.fault("no-format", first_line(whole), "the file does not say its format", remedy),
            Some(value) => match value.get_ref() {
                DeValue::Integer(number) if number.to_string() == "1" => {}
                _ => self.fault("format", value.span().into(), "this format is not known", remedy),
            },
        }
    }

    fn start(&mut self, root: &Table<'_>, whole: Span) -> Option<Moment> {
        let remedy = "write it like `start = 2031-04-05T09:00:00-05:00`, with the offset from UTC";
        let Some(value) = root.get("start") else {
            self.fault("no-start", first_line(whole), "the file does not say when the clock starts", remedy);
            return None;
        };
        let text = match value.get_ref() {
            DeValue::String(text) => Cow::Borrowed(text.as_ref()),
            DeValue::Datetime(time) => Cow::Owned(time.to_string()),
            _ => Cow::Borrowed(""),
        };
        let start = Moment::parse(&text);
        if start.is_none() {
            self.fault("start", value.span().into(), "this is no date and time with an offset", remedy);
        }
        start
    }

    fn answers(&mut self, root: &Table<'_>) -> Option<Vec<Answer>> {
        let remedy = "begin each answer with a line `[[answer]]`";
        let Some(value) = root.get("answer") else { return Some(Vec::new()) };
        let DeValue::Array(array) = value.get_ref() else {
            self.fault("answer", value.span().into(), "`answer` must be a list of tables", remedy);
            return None;
        };
        let mut answers = Vec::new();
        for item in array.iter() {
            match item.get_ref() {
                DeValue::Table(table) => answers.extend(self.answer(table, item.span().into())),
                _ => self.fault("answer", item.span().into(), "an answer must be a table", remedy),
            }
        }
        Some(answers)
    }

    fn answer(&mut self, table: &Table<'_>, whole: Span) -> Option<Answer> {
        self.keys(table, &["step", "give", "asks", "after"]);
        let step = match table.get("step") {
            Some(value) => self.text("step", value),
            None => {
                let message = "this answer does not say which step it is for";
                self.fault("no-step", whole, message, "add `step = \"...\"` with the step's id");
                None
            }
        };
        let give = match table.get("give") {
            Some(value) => self.give(value),
            None => {
                let message = "this answer does not say what is answered";
                self.fault(
                    "no-give",
                    whole,
                    message,
                    "add `give = \"...\"`; for Enter alone write `give = \"\"`",
                );
                None
            }
        };
        let asks = table.get("asks").and_then(|value| self.text("asks", value));
        let after = table.get("after").and_then(|value| self.after(value));
        Some(Answer { step: step?, give: give?, asks, after })
    }

    fn text(&mut self, key: &str, value: &Value<'_>) -> Option<Located<String>> {
        let span = Span::from(value.span());
        match value.get_ref() {
            DeValue::String(text) if !is_harmless(text) || text.contains('\n') => {
                let message = format!("`{key}` holds a line end or a character that cannot be shown");
                self.fault("harmful-text", span, message, "write it on one line, without control characters");
                None
            }
            DeValue::String(text) => Some(Located { value: text.to_string(), span }),
            _ => {
                let message = format!("`{key}` must be a text");
                self.fault("not-text", span, message, "put it in double quotes, as a person would type it");
                None
            }
        }
    }

    fn give(&mut self, value: &Value<'_>) -> Option<Vec<Located<String>>> {
        let DeValue::Array(array) = value.get_ref() else {
            return self.text("give", value).map(|text| vec![text]);
        };
        if array.is_empty() {
            let message = "`give` is an empty list";
            self.fault("no-give", value.span().into(), message, "for Enter alone write `give = \"\"`");
            return None;
        }
        let texts: Vec<_> = array.iter().map(|item| self.text("give", item)).collect();
        texts.into_iter().collect()
    }

    fn after(&mut self, value: &Value<'_>) -> Option<Located<Duration>> {
        let text = self.text("after", value)?;
        let remedy = "write a number and a unit of time, such as `after = \"5 min\"`";
        let span = text.span;
        match read_number(&text.value, Family::Time) {
            Ok(typed) => match typed.unit.map(|unit| Duration::try_from_secs_f64(typed.number * unit.size)) {
                Some(Ok(value)) => return Some(Located { value, span }),
                Some(Err(_)) => self.fault("after", span, "the clock cannot move that far", remedy),
                None => self.fault("after", span, "the time has no unit", remedy),
            },
            Err(error) => {
                let message = error.to_string();
                self.fault("after", span, message.trim_end_matches('.'), remedy);
            }
        }
        None
    }
}

/// The place to complain about a whole file: its beginning.
fn first_line(whole: Span) -> Span {
    Span::new(whole.start, whole.start)
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
