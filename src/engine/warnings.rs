//! What stands before a step's question: whole messages to be read, or short lines.

use std::sync::Arc;

use super::run::Run;
use crate::lang::Value;
use crate::procedure::{Hazard, Signal, Step, Warning};

impl Run {
    /// Whether the word is waited for that something was read before the step where the run stands.
    pub(super) fn must_warn(&self, step: &Step) -> bool {
        let unread = self.state.warned.unread(step);
        self.state.entered
            && self.state.warned.is_new(&unread)
            && !takes_a_status(step)
            && !self.something_can_hurt()
    }

    /// Whether a state holds that can hurt, and of which the person was told.
    fn something_can_hurt(&self) -> bool {
        let dangers = |state: &Arc<str>| {
            let hazards = self.setting.procedure.hazards_of(state);
            hazards
                .iter()
                .any(|hazard| hazard.signal == Signal::Danger && !self.state.warned.is_new(&[hazard]))
        };
        self.state.holding.all().iter().any(dangers)
    }

    /// The whole messages to be read before the step.
    pub(super) fn messages(&self, step: &Step) -> Vec<Warning> {
        let known = |observable: &str| self.observed(observable);
        let unread = self.state.warned.unread(step).into_iter();
        unread.map(|hazard| hazard.message(&known, self.setting.units)).collect()
    }

    /// What stands before a step's question when it is first put: whole messages for which no word
    /// is waited for, and short lines.
    pub(super) fn reminders(&self, step: &Step) -> Vec<Warning> {
        if !self.state.takes.is_empty() || self.state.wait_begun.is_some() {
            return Vec::new();
        }
        let (read, unread) = (&self.state.warned.read, self.state.warned.unread(step));
        let mut shown = self.messages(step);
        let others = step.hazards.iter().filter(|hazard| !read.contains(hazard) && !unread.contains(hazard));
        shown.extend(others.map(|hazard| self.briefly(hazard)));
        shown
    }

    /// A hazard's line for later rounds.
    pub(super) fn briefly(&self, hazard: &Hazard) -> Warning {
        hazard.briefly(&|observable| self.observed(observable), self.setting.units)
    }

    /// The messages of a step were read.
    pub(super) fn understood(&mut self, step: &Step) {
        let read = self.state.warned.unread(step);
        self.state.warned.understood(&read);
        self.state.warned.read = read;
    }

    /// What is known of an observable: the value of the last fact or step that is of it.
    fn observed(&self, observable: &str) -> Option<Value> {
        let names = self.setting.procedure.observing(observable);
        names.into_iter().rev().find_map(|name| self.state.names.collapsed(&name))
    }
}

/// Whether a step waits for the status that was seen.
fn takes_a_status(step: &Step) -> bool {
    step.course().asks().is_some_and(|asks| asks.shows().status.is_some())
}
