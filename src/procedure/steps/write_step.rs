//! `write`: a text, a date, or the path of a file such as a photograph.

use crate::lang::Template;
use crate::procedure::answers::{LONGEST_TEXT, written};
use crate::procedure::keys::{ASK, Takes, key};
use crate::procedure::paper::{Paper, PaperLine, Said, Slot, said};
use crate::procedure::question::{Accepted, Answer, AnswerKind, AtHand, Refusal, WriteKind};
use crate::procedure::shown::Shown;
use crate::procedure::step::{Action, Asks, Course, Gives, Step};
use crate::procedure::verb::{DraftAction, Verb};
use crate::quantity::Kind;
use crate::record::Entry;

/// A text to write.
#[derive(Debug)]
struct Write {
    /// The question.
    ask: Template,
    /// What sort of text.
    kind: WriteKind,
    /// The most characters it may have.
    longest: u32,
}

/// The sorts of text, as a file names them.
const KINDS: &[(&str, WriteKind)] =
    &[("text", WriteKind::Text), ("date", WriteKind::Date), ("file", WriteKind::File)];

pub(super) const VERB: Verb = Verb {
    key: key("write", Takes::OneOf(&["text", "date", "file"]), "what is to be written"),
    sentence: "a text to write: \"text\", \"date\" or \"file\"",
    keys: &[ASK, key("longest", Takes::Whole(1, 4_000), "the most characters")],
    answered: true,
    draft: |fields, drafting| {
        let ask = drafting.needed_text(fields, "ask", "the question to put");
        let kind = fields.text("write")?;
        let longest = fields.whole("longest", 1..=4_000).unwrap_or(LONGEST_TEXT);
        DraftAction::checked_by(move |step, checking| {
            let kind = checking.one_of(&kind, KINDS, ("unknown-kind", "cannot be written"))?;
            let ask = checking.optional_text(&ask);
            step.define(checking, &Kind::Text);
            Some(Write { ask: ask?, kind, longest })
        })
    },
};

impl Asks for Write {
    fn shows(&self) -> Shown<'_> {
        Shown::asking(&self.ask)
    }

    fn expects(&self, _: &dyn AtHand) -> AnswerKind {
        AnswerKind::Text(self.kind)
    }

    fn take(&self, answer: &Answer<'_>, _: &dyn AtHand) -> Result<Accepted, Refusal> {
        written(answer.typed, self.kind, self.longest)
    }

    fn gives(&self) -> Option<Gives> {
        Some(Gives::one(Kind::Text))
    }

    fn message(&self, _: &Entry) -> Option<String> {
        None
    }
}

impl Action for Write {
    fn course(&self) -> Course<'_> {
        Course::Ask(self)
    }

    fn outline(&self, _: &Step) -> Vec<Said> {
        let sort = match self.kind {
            WriteKind::Text => None,
            WriteKind::Date => Some("a date".to_string()),
            WriteKind::File => Some("the path of a file".to_string()),
        };
        vec![said("Write", &self.ask), ("As", sort)]
    }

    fn on_paper(&self, _: &Step, paper: &mut dyn Paper) -> Option<PaperLine> {
        Some(self.shows().on_paper(Slot::Line, paper))
    }
}
