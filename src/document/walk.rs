//! Where the faults of a walk are collected.

use std::cell::RefCell;

use toml::de::DeValue;

use crate::source::{Fault, SourceText};

/// Collects faults while a document is walked.
#[derive(Debug)]
pub struct FaultCollector<'a> {
    /// The document.
    pub source: &'a SourceText,
    faults: RefCell<Vec<Fault>>,
}

impl<'a> FaultCollector<'a> {
    /// Starts a walk.
    pub fn new(source: &'a SourceText) -> FaultCollector<'a> {
        FaultCollector { source, faults: RefCell::new(Vec::new()) }
    }

    /// Notes a fault and goes on.
    pub fn fault(&self, fault: Fault) {
        self.faults.borrow_mut().push(fault);
    }

    /// Notes a fault that leaves nothing to go on with.
    pub fn none<T>(&self, fault: Fault) -> Option<T> {
        self.fault(fault);
        None
    }

    /// Every fault so far.
    pub fn into_faults(self) -> Vec<Fault> {
        self.faults.into_inner()
    }
}

/// A value on one line: texts without their quotes, tables with their keys in order.
pub(super) fn written(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => text.to_string(),
        DeValue::Integer(number) => number.as_str().to_string(),
        DeValue::Float(number) => number.as_str().to_string(),
        DeValue::Boolean(yes) => yes.to_string(),
        DeValue::Datetime(time) => time.to_string(),
        DeValue::Array(items) => {
            items.iter().map(|item| written(item.get_ref())).collect::<Vec<_>>().join(", ")
        }
        DeValue::Table(table) => {
            let mut keys: Vec<String> = table
                .iter()
                .map(|(key, value)| format!("{} {}", key.get_ref(), written(value.get_ref())))
                .collect();
            keys.sort();
            format!("{{ {} }}", keys.join(", "))
        }
    }
}

/// What a value is, in words.
pub(super) fn type_in_words(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(items) if items.iter().any(|item| item.get_ref().is_table()) => {
            "a list of tables, each in two brackets"
        }
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// What to write in place of a value of another type, where that can be told.
pub(super) fn meant(key: &str, value: &DeValue<'_>, expected: &str) -> Option<String> {
    let text = value.as_str();
    let quoted = matches!(value, DeValue::Integer(_) | DeValue::Float(_) | DeValue::Boolean(_));
    match expected {
        "true or false" => {
            let word = text?.to_lowercase();
            let yes = matches!(word.as_str(), "yes" | "true" | "on");
            let no = matches!(word.as_str(), "no" | "false" | "off");
            (yes || no).then(|| format!("write `{key} = {yes}`, without quotes"))
        }
        "a whole number" => {
            let number = text?.trim().parse::<u32>().ok()?;
            Some(format!("write `{key} = {number}`, without quotes"))
        }
        "a text in quotes" => quoted.then(|| format!("write `{key} = \"{}\"`", written(value))),
        "a table" => value.is_array().then(|| format!("write the heading with one bracket: `[{key}]`")),
        _ if expected.starts_with("a list of tables") => {
            value.is_table().then(|| format!("write the heading with two brackets: `[[{key}]]`"))
        }
        _ if expected.starts_with("a list of texts") => Some(format!("write `{key} = [\"{}\"]`", text?)),
        _ => None,
    }
}
