//! `write`: a text, a date, or the path of a file such as a photograph.

use super::{DraftAction, Verb};
use crate::lang::{RawTemplate, Template};
use crate::procedure::checking::Checking;
use crate::quantity::Kind;
use crate::source::{Fault, Quoted};
use crate::words::did_you_mean;

/// A text to write.
#[derive(Clone, Debug)]
pub struct Write {
    /// The question.
    pub ask: Template,
    /// What sort of text.
    pub kind: WriteKind,
    /// The most characters it may have.
    pub longest: u32,
}

/// What sort of text is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WriteKind {
    /// Free text.
    Text,
    /// A date, as 2031-04-05.
    Date,
    /// The path of a file.
    File,
}

#[derive(Clone, Debug)]
pub(in crate::procedure) struct Draft {
    kind: Quoted,
    ask: Option<RawTemplate>,
    longest: u32,
}

pub(super) const VERB: Verb = Verb {
    word: "write",
    sentence: "a text to write: \"text\", \"date\" or \"file\"",
    keys: &["ask", "longest"],
    draft: |fields, drafting, _| {
        if !fields.has("ask") {
            fields.missing("ask", "the question to put");
        }
        Some(DraftAction::Write(Draft {
            kind: fields.text("write")?,
            ask: drafting.text(fields, "ask"),
            longest: fields.whole("longest", 1..=4_000).unwrap_or(400),
        }))
    },
};

impl Draft {
    pub(super) fn check(&self, checking: &mut Checking<'_>) -> Option<Write> {
        let kind = match self.kind.text.as_str() {
            "text" => WriteKind::Text,
            "date" => WriteKind::Date,
            "file" => WriteKind::File,
            other => {
                checking.fault(
                    Fault::new(
                        "unknown-kind",
                        &self.kind.source,
                        self.kind.span,
                        format!("`{}` cannot be written", other.escape_debug()),
                    )
                    .remedy(did_you_mean(other, &["text", "date", "file"])),
                );
                return None;
            }
        };
        let ask = self.ask.as_ref().and_then(|ask| checking.text(ask));
        checking.define_step(&Kind::Text, 1);
        Some(Write { ask: ask?, kind, longest: self.longest })
    }
}
