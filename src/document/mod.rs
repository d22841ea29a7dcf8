//! A TOML text walked with places: every fault is collected, none ends the walk.

mod slips;
mod walk;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::clock::Moment;
use crate::source::{Fault, Quoted, SourceText, Span};
use crate::words::{did_you_mean, is_harmless};

pub(crate) use walk::FaultCollector;

/// Reads a text as TOML and hands its root to `walk`, which reads what it knows; returns what it
/// found and the faults it noted.
///
/// # Errors
/// Every fault of the TOML itself.
pub fn read_document<T>(
    source: &SourceText,
    walk: impl FnOnce(&Fields<'_>) -> T,
) -> Result<(T, Vec<Fault>), Vec<Fault>> {
    let (root, errors) = DeTable::parse_recoverable(source.text());
    if !errors.is_empty() {
        return Err(slips::faults(source, &errors));
    }
    let state = FaultCollector::new(source);
    let found = walk(&Fields::of(&state, root.get_ref(), Span::new(0, 0)));
    Ok((found, state.into_faults()))
}

/// A fault about a word that is none of those there are: with the one that was meant, or with all.
pub fn unknown_fault<'k>(
    code: &'static str,
    word: &Quoted,
    message: impl Into<String>,
    known: impl IntoIterator<Item = &'k str>,
) -> Fault {
    word.fault(code, message).remedy(did_you_mean(&word.text, known))
}

/// The keys of one table, taken one by one.
pub struct Fields<'a> {
    walk: &'a FaultCollector<'a>,
    table: &'a DeTable<'a>,
    /// The marks of all keys: most questions are about keys that are not there.
    marks: u64,
    /// Where the table stands.
    pub span: Span,
}

/// A value as it is written, whatever its type.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Written {
    /// A text without its quotes, a number, a yes or no, or a table on one line.
    One(String),
    /// The items of a list.
    List(Vec<String>),
}

/// One bit for a key, by its length, its first and its last letter.
pub(crate) fn mark(key: &str) -> u64 {
    let letter = |byte: Option<&u8>| byte.map_or(0, |byte| usize::from(*byte));
    let key = key.as_bytes();
    1 << ((key.len() + letter(key.first()) + 5 * letter(key.last())) % 64)
}

type TomlValue<'a> = Spanned<DeValue<'a>>;

impl<'a> Fields<'a> {
    fn of(walk: &'a FaultCollector<'a>, table: &'a DeTable<'a>, span: Span) -> Fields<'a> {
        let marks = table.keys().fold(0, |marks, key| marks | mark(key.get_ref()));
        Fields { walk, table, marks, span }
    }

    /// The walk, for noting faults.
    pub fn walk(&self) -> &'a FaultCollector<'a> {
        self.walk
    }

    /// The document.
    pub fn source(&self) -> &'a SourceText {
        self.walk.source
    }

    /// A fault of the document, to be noted by the walk.
    pub fn fault(&self, code: &'static str, span: Span, message: impl Into<String>) -> Fault {
        Fault::new(code, self.source(), span, message)
    }

    /// Every key with its place, in the order of the file.
    pub fn keys(&self) -> impl Iterator<Item = (&str, Span)> {
        self.table.keys().map(|key| (key.get_ref().as_ref(), key.span().into()))
    }

    /// Whether the key is there.
    pub fn has(&self, key: &str) -> bool {
        self.value(key).is_some()
    }

    /// Where a key's name stands.
    pub fn key_span(&self, key: &str) -> Span {
        self.keys().find(|(name, _)| *name == key).map_or(self.span, |(_, span)| span)
    }

    /// Where a key's value stands.
    pub fn value_span(&self, key: &str) -> Span {
        self.value(key).map_or(self.span, |value| value.span().into())
    }

    fn value(&self, key: &str) -> Option<&'a TomlValue<'a>> {
        if self.marks & mark(key) == 0 {
            return None;
        }
        self.table.get(key)
    }

    /// Notes every key that is not among `known`.
    pub fn only(&self, known: &[&str]) {
        for (key, span) in self.keys().filter(|(key, _)| !known.contains(key)) {
            let message = format!("there is no key `{}` here", key.escape_debug());
            let why = "A mistyped key would be passed over in silence, and a step with it.";
            self.walk
                .fault(self.fault("unknown-key", span, message).why(why).remedy(did_you_mean(key, known)));
        }
    }

    fn wrong_type<T>(&self, key: &str, value: &TomlValue<'_>, expected: &str) -> Option<T> {
        let found = walk::type_in_words(value.get_ref());
        let message = format!("`{key}` should be {expected}, and this is {found}");
        let fault = self.fault("wrong-type", value.span().into(), message);
        let remedy = walk::meant(key, value.get_ref(), expected);
        self.walk.none(fault.remedy(remedy.unwrap_or_else(|| format!("write {expected}"))))
    }

    /// A text; faulty when it is of another type or could disturb a terminal.
    pub fn text(&self, key: &str) -> Option<Quoted> {
        self.as_text(key, self.value(key)?)
    }

    fn as_text(&self, key: &str, value: &TomlValue<'_>) -> Option<Quoted> {
        let Some(text) = value.get_ref().as_str() else {
            return self.wrong_type(key, value, "a text in quotes");
        };
        if !is_harmless(text) {
            let message = format!("`{key}` holds characters that could command a terminal or hide text");
            let fault = self.fault("harmful-text", value.span().into(), message);
            return self.walk.none(fault.remedy("write it with ordinary characters only"));
        }
        Some(self.quoted(text, value))
    }

    fn quoted(&self, text: &str, value: &TomlValue<'_>) -> Quoted {
        Quoted { source: self.source().clone(), text: text.to_string(), span: value.span().into() }
    }

    /// A text, or a number as it is written, as `read` takes it; what it does not take is a fault
    /// that says why and how to mend it.
    pub fn read<T, E: std::error::Error>(
        &self,
        key: &str,
        read: impl Fn(&str) -> Result<T, E>,
        remedy: &str,
    ) -> Option<T> {
        let text = self.text_or_number(key)?;
        let fault = |why: E| {
            let message = format!("`{key}` cannot be what stands here");
            let fault = text.fault("not-a-value", message);
            self.walk.fault(fault.why(why.to_string()).remedy(remedy));
        };
        read(&text.text).map_err(fault).ok()
    }

    /// A text, or a number as it is written.
    pub fn text_or_number(&self, key: &str) -> Option<Quoted> {
        let value = self.value(key)?;
        let text = match (value.get_ref().as_float(), value.get_ref().as_integer()) {
            (Some(number), _) => number.as_str(),
            (_, Some(number)) => number.as_str(),
            _ => return self.as_text(key, value),
        };
        Some(self.quoted(text, value))
    }

    /// A date and time with its offset, as TOML writes it or in quotes.
    pub fn moment(&self, key: &str) -> Option<Moment> {
        let value = self.value(key)?;
        let text = match value.get_ref() {
            DeValue::Datetime(time) => time.to_string(),
            other => other.as_str().unwrap_or_default().to_string(),
        };
        Moment::parse(&text).or_else(|| {
            let message = format!("`{key}` is no date and time with its offset from UTC");
            let fault = self.fault("not-a-value", value.span().into(), message);
            self.walk.none(fault.remedy("write it like 2031-04-05T09:00:00-05:00"))
        })
    }

    /// Notes it when the file does not say that it is of format 1.
    pub fn check_format(&self) {
        match self.whole("format", 0..=u32::MAX) {
            Some(1) => {}
            Some(other) => {
                let message = format!("this file is of format {other}, and this program reads format 1");
                let fault = self.fault("format", self.value_span("format"), message);
                self.walk.fault(fault.remedy("use a newer program, or write the file in format 1"));
            }
            None if !self.has("format") => self.missing("format", "write `format = 1` at the top"),
            None => {}
        }
    }

    /// A text that must be there.
    pub fn needed_text(&self, key: &str, what: &str) -> Option<Quoted> {
        if !self.has(key) {
            self.missing(key, what);
        }
        self.text(key)
    }

    /// Notes that a key is missing.
    pub fn missing(&self, key: &str, what: &str) {
        let message = format!("`{key}` is missing here");
        let fault = self.fault("missing-key", self.span, message);
        self.walk.fault(fault.remedy(format!("add `{key} = …`: {what}")));
    }

    /// A yes or no written `true` or `false`.
    pub fn flag(&self, key: &str) -> bool {
        let Some(value) = self.value(key) else { return false };
        let yes = value.get_ref().as_bool();
        yes.or_else(|| self.wrong_type(key, value, "true or false")).unwrap_or_default()
    }

    /// A whole number within `range`.
    pub fn whole(&self, key: &str, range: std::ops::RangeInclusive<u32>) -> Option<u32> {
        let value = self.value(key)?;
        let Some(number) = value.get_ref().as_integer() else {
            return self.wrong_type(key, value, "a whole number");
        };
        let parsed = u32::from_str_radix(&number.as_str().replace('_', ""), number.radix());
        parsed.ok().filter(|number| range.contains(number)).or_else(|| {
            let (low, high) = (range.start(), range.end());
            let message = format!("`{key}` should be from {low} to {high}");
            let fault = self.fault("out-of-range", value.span().into(), message);
            self.walk.none(fault.remedy(format!("write a whole number from {low} to {high}")))
        })
    }

    /// The value of a key as it is written, whatever its type.
    pub fn written(&self, key: &str) -> Option<Written> {
        Some(match self.value(key)?.get_ref() {
            DeValue::Array(items) => {
                Written::List(items.iter().map(|item| walk::written(item.get_ref())).collect())
            }
            other => Written::One(walk::written(other)),
        })
    }

    /// A list of texts; empty when the key is not there.
    pub fn texts(&self, key: &str) -> Vec<Quoted> {
        let Some(value) = self.value(key) else { return Vec::new() };
        match value.get_ref().as_array() {
            Some(items) => items.iter().filter_map(|item| self.as_text(key, item)).collect(),
            None => self.wrong_type(key, value, "a list of texts in square brackets").unwrap_or_default(),
        }
    }

    /// Whether the value of `key` is a list.
    pub fn is_list(&self, key: &str) -> bool {
        self.value(key).is_some_and(|value| value.get_ref().is_array())
    }

    /// Whether the value of `key` is a table.
    pub fn is_table(&self, key: &str) -> bool {
        self.value(key).is_some_and(|value| value.get_ref().is_table())
    }

    /// Whether the value of `key` is a list that holds tables.
    pub fn is_list_of_tables(&self, key: &str) -> bool {
        let items = self.value(key).and_then(|value| value.get_ref().as_array());
        items.is_some_and(|items| items.iter().any(|item| item.get_ref().is_table()))
    }

    /// A table.
    pub fn table(&self, key: &str) -> Option<Fields<'a>> {
        self.as_table(key, self.value(key)?)
    }

    fn as_table(&self, key: &str, value: &'a TomlValue<'a>) -> Option<Fields<'a>> {
        match value.get_ref() {
            DeValue::Table(table) => Some(Fields::of(self.walk, table, value.span().into())),
            _ => self.wrong_type(key, value, "a table"),
        }
    }

    /// A list of tables, as `[[key]]` makes it; empty when the key is not there.
    pub fn tables(&self, key: &str) -> Vec<Fields<'a>> {
        let Some(value) = self.value(key) else { return Vec::new() };
        let DeValue::Array(items) = value.get_ref() else {
            let expected = format!("a list of tables, each under `[[{key}]]`");
            return self.wrong_type(key, value, &expected).unwrap_or_default();
        };
        let mut found = Vec::with_capacity(items.len());
        found.extend(items.iter().filter_map(|item| self.as_table(key, item)));
        found
    }
}
