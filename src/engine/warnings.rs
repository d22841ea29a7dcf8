//! What a person is warned of, and when the whole message stands again.
//!
//! A stretch of work with a hazard begins where a step names it, and ends when a state with that
//! hazard is undone. The first step of a stretch shows the whole message and waits for the word that
//! it was read; the others, and a step that comes round again, show the short line.

use std::collections::HashSet;
use std::sync::Arc;

use super::run::Run;
use crate::lang::Value;
use crate::procedure::{Hazard, Step, Warning};

/// What the person was warned of.
#[derive(Clone, Debug, Default)]
pub(super) struct Warned {
    /// The hazards whose stretch is under way.
    stretch: Vec<&'static Hazard>,
    /// The steps that were done before.
    steps: HashSet<Arc<str>>,
    /// The hazards whose whole message was read at the step where the run stands.
    read: Vec<&'static Hazard>,
}

impl Warned {
    /// A step is come to.
    pub fn come_to(&mut self) {
        self.read.clear();
    }

    /// A step is done.
    pub fn leave(&mut self, step: &Step) {
        if !step.hazards.is_empty() {
            self.steps.insert(step.id.clone());
            self.begin(&step.hazards);
        }
    }

    /// The stretch ends.
    pub fn end(&mut self, hazards: &[&'static Hazard]) {
        self.stretch.retain(|hazard| !hazards.contains(hazard));
    }

    fn begin(&mut self, hazards: &[&'static Hazard]) {
        let new = hazards.iter().filter(|hazard| !self.stretch.contains(hazard));
        self.stretch.extend(new.copied().collect::<Vec<_>>());
    }

    /// The hazards whose whole message must be read before the step.
    fn unread(&self, step: &Step) -> Vec<&'static Hazard> {
        if step.hazards.is_empty() || self.steps.contains(&step.id) {
            return Vec::new();
        }
        step.hazards.iter().filter(|hazard| !self.stretch.contains(hazard)).copied().collect()
    }
}

impl Run {
    /// Whether something must be read before the step where the run stands.
    pub(super) fn must_warn(&self, step: &Step) -> bool {
        self.state.entered && !self.state.warned.unread(step).is_empty()
    }

    /// The whole messages to be read before the step.
    pub(super) fn messages(&self, step: &Step) -> Vec<Warning> {
        let known = |observable: &str| self.observed(observable);
        let unread = self.state.warned.unread(step).into_iter();
        unread.map(|hazard| hazard.message(&known, self.setting.units)).collect()
    }

    /// The short lines that stand before a step's question, when it is first put.
    pub(super) fn reminders(&self, step: &Step) -> Vec<Warning> {
        if !self.state.takes.is_empty() || self.state.wait_begun.is_some() {
            return Vec::new();
        }
        let read = &self.state.warned.read;
        step.hazards.iter().filter(|hazard| !read.contains(hazard)).map(|hazard| hazard.briefly()).collect()
    }

    /// The messages of a step were read.
    pub(super) fn understood(&mut self, step: &Step) {
        let read = self.state.warned.unread(step);
        self.state.warned.begin(&read);
        self.state.warned.read = read;
    }

    /// What is known of an observable: the value of the last fact or step that is of it.
    fn observed(&self, observable: &str) -> Option<Value> {
        let names = self.setting.procedure.observing(observable);
        names.into_iter().rev().find_map(|name| self.state.names.collapsed(&name))
    }
}
