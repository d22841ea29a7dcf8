//! Where a run stands, in the words of the tables: what the answer is of, and what the step does.

use std::sync::Arc;

use super::run::{Run, Waiting};
use crate::procedure::Observable;
use crate::record::Phase;

/// What the step that a run waits on is about.
///
/// It names no step and holds no prose, so that whoever answers by it can answer any procedure.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Situation {
    /// What the answer is of.
    pub observes: Option<&'static Observable>,
    /// Of which phase of the work it tells.
    pub phase: Option<Phase>,
    /// The states it brings about.
    pub brings: Vec<Arc<str>>,
    /// The states it ends.
    pub undoes: Vec<Arc<str>>,
    /// The tank worked on, by its place in the installation.
    pub tank: usize,
}

impl Situation {
    /// Whether it brings a state about.
    pub fn brings(&self, state: &str) -> bool {
        self.brings.iter().any(|brought| **brought == *state)
    }

    /// Whether it ends a state.
    pub fn undoes(&self, state: &str) -> bool {
        self.undoes.iter().any(|ended| **ended == *state)
    }
}

impl Run {
    /// Where the run stands. A warning that is yet to be read does nothing; a run that has ended, neither.
    pub fn situation(&self) -> Situation {
        let about = Situation { phase: self.tells(), tank: self.tank(), ..Situation::default() };
        match self.waiting() {
            Some(Waiting::Step(step, _)) => Situation {
                observes: self.observable(),
                brings: step.brings.clone(),
                undoes: step.undoes.clone(),
                ..about
            },
            Some(Waiting::Fact(fact)) => Situation { observes: fact.observes, ..about },
            Some(Waiting::Warning(_)) | None => about,
        }
    }
}
