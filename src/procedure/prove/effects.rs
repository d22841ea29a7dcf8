//! What steps do to states, and whether what they need holds.

use std::sync::Arc;

use rustc_hash::FxHashSet;

use super::conditions::{Guard, both};
use super::hazards::shown;
use super::prover::Prover;
use super::states::StateChange;
use super::words::named;
use crate::lang::Expr;
use crate::procedure::model::flat;
use crate::procedure::place::SourcePlace;
use crate::procedure::step::{Repeat, Step};

impl Prover<'_> {
    /// The states that steps bring about or end, loops inside included.
    pub(super) fn touched(&self, steps: &[Step]) -> FxHashSet<Arc<str>> {
        let mut states = FxHashSet::default();
        for step in flat(steps) {
            let needed = step.needs.iter().map(|(state, _)| state);
            let ends = step.course().stops();
            let left = step.brings.iter().chain(&step.undoes).filter(|_| !ends);
            for state in left.chain(needed) {
                states.insert(state.clone());
                states.extend(self.procedure.hazards_of(state).iter().map(|hazard| shown(hazard).clone()));
            }
            states.extend(step.hazards.iter().map(|hazard| shown(hazard).clone()));
        }
        states
    }

    /// What leaves a state in doubt: that the part that would bring it about is left out, or what was done to it last.
    pub(super) fn past(&self, state: &Arc<str>) -> Option<StateChange> {
        let left = self.procedure.left_out.iter().find(|left| left.states.contains(state));
        let left = left.map(|left| StateChange::LeftOut(left.part.clone()));
        left.or_else(|| self.states.get(state)?.past.clone())
    }

    /// Tells of a state that is needed and may not hold.
    pub(super) fn lacks(&mut self, state: &Arc<str>, place: &SourcePlace) {
        let fault = self.needs_state(state, place);
        self.fault(fault);
    }

    pub(super) fn means(&self, state: &str) -> &str {
        let known = self.procedure.states.iter().find(|known| *known.id == *state);
        known.map_or("", |state| state.means.as_str())
    }

    /// Tells of needs that do not certainly hold.
    pub(super) fn needs(&mut self, step: &Step) {
        if self.quiet > 0 {
            return;
        }
        for (state, span) in &step.needs {
            if !self.holds(state) {
                self.lacks(state, &SourcePlace { source: step.source.clone(), span: *span });
            }
        }
    }

    /// A step that is certainly done when it is come to.
    pub(super) fn done(&mut self, step: &Step) {
        let guard = self.context.guard();
        self.end(step, &guard);
        for state in &step.brings {
            self.states.bring(state, guard.clone(), &self.conditions);
            let when = (!guard.is_empty()).then(|| guard.clone());
            let past = when.map(|when| StateChange::BroughtWhen(named(step), step.place(), when));
            self.states.note(state, past);
        }
    }

    /// A step that a person does, or skips where it may be skipped.
    pub(super) fn asked_for(&mut self, step: &Step) {
        if !step.skip {
            return self.done(step);
        }
        // A value is left when it was done, but in a `repeat` it may be that of another round.
        let answers = self.repeats == 0 && step.course().gives().is_some();
        let proofs = if answers {
            let known = self.conditions.known(&step.id, self.names.version(&step.id));
            vec![Guard::from_slice(&[known])]
        } else {
            Vec::new()
        };
        self.perhaps_done(step, proofs, "may be skipped");
    }

    /// A `check` without `must`: when it fails, it brings nothing about.
    pub(super) fn done_unless_failed(&mut self, step: &Step, expr: &Expr) {
        let name = crate::lang::Node::Name(step.id.to_string());
        let name = Expr { node: name, span: (0..0).into() };
        let proofs = vec![self.conditions_of(&name, true), self.conditions_of(expr, true)];
        self.perhaps_done(step, proofs, "may fail");
    }

    /// A `repeat` at its end: its states are only certain where `until` came to hold, since the
    /// rounds may run out first.
    pub(super) fn rounds_over(&mut self, step: &Step, repeat: &Repeat) {
        let proofs = vec![self.conditions_of(repeat.until.expr(), true)];
        self.perhaps_done(step, proofs, "may run out of rounds");
    }

    fn perhaps_done(&mut self, step: &Step, proofs: Vec<Guard>, unless: &'static str) {
        let guard = self.context.guard();
        self.end(step, &guard);
        for state in &step.brings {
            for proof in &proofs {
                self.states.bring(state, both(&guard, proof), &self.conditions);
            }
            let past = StateChange::BroughtUnless(named(step), step.place(), unless);
            self.states.note(state, Some(past));
        }
    }

    fn end(&mut self, step: &Step, guard: &Guard) {
        for state in &step.undoes {
            self.states.end(state, guard, &self.conditions);
            for hazard in self.procedure.hazards_of(state) {
                self.states.end(shown(hazard), guard, &self.conditions);
            }
            self.states.note(state, Some(StateChange::Ended(named(step), step.place())));
        }
    }
}
