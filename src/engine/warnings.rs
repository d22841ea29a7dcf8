//! What stands before a step's question: whole messages to be read, or short lines.

use super::run::Run;
use crate::lang::Value;
use crate::procedure::{Step, Warning};

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
