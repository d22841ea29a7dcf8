//! Reading the file of answers: its TOML is walked with places, so that every fault points at
//! the very characters and all of them come at once.

use std::borrow::Cow;
use std::time::Duration;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::answers::{Answer, Located, Script};
use crate::clock::Moment;
use crate::quantity::{Family, read_number};
use crate::source::{Fault, SourceText, Span};
use crate::words::{did_you_mean, is_harmless};

type Table<'i> = DeTable<'i>;
type Value<'i> = Spanned<DeValue<'i>>;

/// Walks the file and gathers its faults.
pub(super) struct Reader<'s> {
    source: &'s SourceText,
    faults: Vec<Fault>,
}

impl<'s> Reader<'s> {
    pub(super) fn new(source: &'s SourceText) -> Reader<'s> {
        Reader { source, faults: Vec::new() }
    }

    /// The script, or all faults in the order in which they stand in the file.
    pub(super) fn read(mut self) -> Result<Script, Vec<Fault>> {
        let script = self.file();
        Fault::sort(&mut self.faults);
        match script {
            Some(script) if self.faults.is_empty() => Ok(script),
            _ => Err(self.faults),
        }
    }

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
        for (key, _) in table {
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
        for item in array {
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
