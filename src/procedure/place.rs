//! A place in a file.

use crate::source::{Fault, SourceText, Span};

/// A place in a file, told only when a fault needs it.
#[derive(Clone, Debug)]
pub(super) struct SourcePlace {
    pub source: SourceText,
    pub span: Span,
}

impl SourcePlace {
    /// `file:line`.
    pub(super) fn shown(&self) -> String {
        format!("{}:{}", self.source.name(), self.source.place(self.span.start).line)
    }

    /// A fault there.
    pub(super) fn fault(&self, code: &'static str, message: impl Into<String>) -> Fault {
        Fault::new(code, &self.source, self.span, message)
    }
}
