//! What a person is warned of, and when the whole message stands again.
//!
//! A stretch of work with a hazard begins where a step names it, and ends when a state with that
//! hazard is undone. The first step of a stretch shows the whole message; the others, and a step that
//! comes round again, show the short line.
//!
//! The first time in a run the word is waited for that a message was read. It is not where the step
//! itself waits for the status that was seen, nor while a state holds that can hurt: eyes and hands
//! are wanted elsewhere then; nor for a notice, which is about things and not about people. A word typed too often is not meant any more.

use std::collections::HashSet;
use std::sync::Arc;

use crate::procedure::{Hazard, Signal, Step};

/// What the person was warned of.
#[derive(Clone, Debug, Default)]
pub(super) struct Warned {
    /// The hazards whose stretch is under way.
    stretch: Vec<&'static Hazard>,
    /// The hazards whose message was read in this run, by the word typed for it.
    understood: HashSet<&'static str>,
    /// The steps that were done before.
    steps: HashSet<Arc<str>>,
    /// The hazards whose whole message was read at the step where the run stands.
    pub read: Vec<&'static Hazard>,
}

impl Warned {
    /// A step is come to.
    pub(super) fn come_to(&mut self) {
        self.read.clear();
    }

    /// A step is done.
    pub(super) fn leave(&mut self, step: &Step) {
        if !step.hazards.is_empty() {
            self.steps.insert(step.id.clone());
            self.begin(&step.hazards);
        }
    }

    /// The stretch ends.
    pub(super) fn end(&mut self, hazards: &[&'static Hazard]) {
        self.stretch.retain(|hazard| !hazards.contains(hazard));
    }

    /// The word was typed that messages were read.
    pub(super) fn understood(&mut self, hazards: &[&'static Hazard]) {
        self.understood.extend(hazards.iter().map(|hazard| hazard.id));
        self.begin(hazards);
    }

    /// Whether one of these can hurt somebody, and the word for it was not typed in this run.
    pub(super) fn is_new(&self, hazards: &[&'static Hazard]) -> bool {
        let hurts = |hazard: &&&Hazard| hazard.signal != Signal::Notice;
        hazards.iter().filter(hurts).any(|hazard| !self.understood.contains(hazard.id))
    }

    /// The messages were read, or stand in short: the stretches are under way.
    pub(super) fn begin(&mut self, hazards: &[&'static Hazard]) {
        let new = hazards.iter().filter(|hazard| !self.stretch.contains(hazard));
        self.stretch.extend(new.copied().collect::<Vec<_>>());
    }

    /// The hazards whose whole message must be read before the step.
    pub(super) fn unread(&self, step: &Step) -> Vec<&'static Hazard> {
        if step.hazards.is_empty() || self.steps.contains(&step.id) {
            return Vec::new();
        }
        step.hazards.iter().filter(|hazard| !self.stretch.contains(hazard)).copied().collect()
    }
}
