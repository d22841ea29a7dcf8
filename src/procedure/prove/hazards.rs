//! Whether the message of each hazard comes before the act.
//!
//! That a message was shown is followed as a state of its own: a step with `hazards` brings it about
//! before it does anything, and it goes when a state with that hazard is undone. That is when a run
//! shows the whole message anew, too.

use std::sync::{Arc, LazyLock};

use super::prover::Prover;
use super::words::hazard_not_shown;
use crate::procedure::contract::{Interface, Proven};
use crate::procedure::hazards::{HAZARDS, Hazard};
use crate::procedure::place::SourcePlace;
use crate::procedure::step::Step;

/// No id holds a space, so no state of a file can be meant.
static SHOWN: LazyLock<Vec<Arc<str>>> =
    LazyLock::new(|| HAZARDS.iter().map(|hazard| format!("{} shown", hazard.id).into()).collect());

/// The state of having shown the message of a hazard.
pub(super) fn shown(hazard: &Hazard) -> &'static Arc<str> {
    let at = HAZARDS.iter().position(|known| known == hazard).unwrap_or_default();
    &SHOWN[at]
}

impl Prover<'_> {
    /// A step shows the messages of its hazards; tells of those that it meets without.
    pub(super) fn hazards(&mut self, step: &Step) {
        let guard = self.context.guard();
        for hazard in &step.hazards {
            self.states.bring(shown(hazard), guard.clone(), &self.conditions);
        }
        for (state, span) in &step.needs {
            let place = SourcePlace { source: step.source.clone(), span: *span };
            for hazard in self.procedure.hazards_of(state) {
                if !step.hazards.contains(hazard) {
                    self.wary(hazard, Some(state), &place);
                }
            }
        }
    }

    /// Tells of a hazard that is met here and whose message may not have been shown.
    pub(super) fn wary(&mut self, hazard: &'static Hazard, state: Option<&str>, place: &SourcePlace) {
        if self.quiet == 0 && !self.holds(shown(hazard)) && !self.shown_before(hazard) {
            let fault = hazard_not_shown(place, hazard, state.map(|state| (state, self.means(state))));
            self.fault(fault);
        }
    }

    /// Whether the message counts as shown here because it was before the part began.
    fn shown_before(&mut self, hazard: &'static Hazard) -> bool {
        let Some(before) =
            self.entered.as_ref().and_then(|entered| entered.before.get(shown(hazard)).copied())
        else {
            return false;
        };
        let holds = self.holds_given(shown(hazard), &[before]);
        if holds
            && let Some(entered) = &mut self.entered
            && !entered.wary.contains(&hazard)
        {
            entered.wary.push(hazard);
        }
        holds
    }

    /// Notes which messages a part has shown at its end, and which may have to be shown again.
    pub(super) fn leave_hazards(&mut self, interface: &Interface, proven: &mut Proven) {
        for hazard in HAZARDS {
            let state = shown(hazard);
            let before = self.entered.as_ref().and_then(|entered| entered.before.get(state).copied());
            let Some(before) = before else { continue };
            if self.holds(state) {
                proven.shown.push((hazard, None));
                continue;
            }
            let brought =
                (0..interface.brings.len()).find(|at| self.shown_where_brought(hazard, interface, *at));
            if let Some(at) = brought {
                proven.shown.push((hazard, Some(at)));
            } else if !self.holds_given(state, &[before]) {
                proven.forgotten.push(hazard);
            }
        }
    }

    /// Whether a message was shown wherever the part brings a state with that hazard about.
    fn shown_where_brought(&mut self, hazard: &'static Hazard, interface: &Interface, at: usize) -> bool {
        let contract = &interface.brings[at];
        let guard = self.guard_of(contract.when.as_ref());
        self.procedure.hazards_of(&contract.state).contains(&hazard)
            && self.holds_given(shown(hazard), &guard)
    }

    /// What a part does to messages shown.
    pub(super) fn hazards_of_part(&mut self, interface: &Interface) {
        let guard = self.context.guard();
        for hazard in &interface.proven.forgotten {
            self.states.end(shown(hazard), &guard, &self.conditions);
        }
        for (hazard, at) in &interface.proven.shown {
            let when = at.and_then(|at| interface.brings[at].when.as_ref());
            let when = super::conditions::both(&guard, &self.guard_of(when));
            self.states.bring(shown(hazard), when, &self.conditions);
        }
    }
}
