//! A problem found in an expression, placed in the expression's own text.
//!
//! The loader moves it to its place in the file and makes a fault of it.

use thiserror::Error;

use crate::source::Span;

/// A second place in the expression, with what stands there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// Where, in the expression.
    pub span: Span,
    /// What stands there.
    pub says: String,
}

/// One thing wrong with an expression.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("{message}")]
pub struct Problem {
    /// The sort of problem, such as `kinds-differ`.
    pub code: &'static str,
    /// Where, in the expression.
    pub span: Span,
    /// What is wrong.
    pub message: String,
    /// A few words to stand at the place.
    pub label: String,
    /// Other places that matter.
    pub notes: Vec<Note>,
    /// What to do.
    pub remedy: String,
}

impl Problem {
    /// A problem with its place, message and remedy.
    pub fn new(
        code: &'static str,
        span: Span,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Problem {
        Problem {
            code,
            span,
            message: message.into(),
            label: String::new(),
            notes: Vec::new(),
            remedy: remedy.into(),
        }
    }

    /// Says what stands at the place.
    pub fn label(mut self, says: impl Into<String>) -> Problem {
        self.label = says.into();
        self
    }

    /// Adds another place.
    pub fn note(mut self, span: Span, says: impl Into<String>) -> Problem {
        self.notes.push(Note { span, says: says.into() });
        self
    }
}
