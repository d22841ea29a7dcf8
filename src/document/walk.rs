//! Where the faults of a walk are collected.

use std::cell::RefCell;

use toml::de::DeValue;

use crate::source::{Fault, SourceText, Span};

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
            let mut keys: Vec<String> =
                table.iter().map(|(key, value)| format!("{} {}", key.get_ref(), written(value.get_ref()))).collect();
            keys.sort();
            format!("{{ {} }}", keys.join(", "))
        }
    }
}

/// One fault a line: later errors on a line mostly follow from its first.
pub(super) fn syntax_faults(source: &SourceText, errors: &[toml::de::Error]) -> Vec<Fault> {
    let mut faults: Vec<Fault> = errors
        .iter()
        .map(|error| {
            let span = error.span().map_or(Span::new(0, 0), Span::from);
            Fault::new("toml", source, span, format!("this is not TOML: {}", error.message()))
                .remedy("mend this line; the ones below may be right once it is")
        })
        .collect();
    Fault::sort(&mut faults);
    faults.dedup_by_key(|fault| source.place(fault.span.start).line);
    faults.truncate(20);
    faults
}
