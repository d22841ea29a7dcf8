//! Where in a procedure an answer belongs.

use std::sync::Arc;

use crate::record::{Entry, EntryKind};

/// Where in a procedure an answer belongs.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct AnswerPlace {
    /// The step's or fact's id.
    pub step: Arc<str>,
    /// The round of each loop around it, outermost first, from 1.
    pub round: Vec<u32>,
    /// Which of several readings, from 1; `None` when only one is taken.
    pub take: Option<u32>,
    /// Whether it is the word that a warning was read, asked for before the step itself.
    pub understands: bool,
}

impl AnswerPlace {
    /// The place of an entry.
    pub fn of(entry: &Entry) -> AnswerPlace {
        AnswerPlace {
            step: entry.step.as_str().into(),
            round: entry.round.clone(),
            take: entry.take,
            understands: entry.kind == EntryKind::Understood,
        }
    }

    /// Whether there is one like it before: an earlier reading, or an earlier round of the same loop.
    pub fn is_repeated(&self) -> bool {
        self.take.iter().chain(self.round.last()).any(|which| *which > 1)
    }
}
