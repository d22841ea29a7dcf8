//! What steps ask for by themselves: where nobody answered it, they are left out.

use super::examine::Missing;
use super::names::{Answered, NameFacts};
use super::prover::Prover;
use super::words::never_known;
use crate::lang::CheckedExpr;
use crate::procedure::asks_by_itself::Needed;
use crate::procedure::step::Step;

impl Prover<'_> {
    /// Asks for what a step needs that only says something; whether there is any.
    pub(super) fn asks_by_itself(&mut self, step: &Step) -> bool {
        let needed = step.asks_by_itself();
        for needed in &needed {
            match needed {
                Needed::Value(expr) | Needed::Shown(expr) => self.ask_answered(expr),
                Needed::Step(id) => {
                    if !self.is_answered(id) {
                        self.ask_known(id);
                        self.assume_known(id);
                    }
                }
            }
        }
        !needed.is_empty()
    }

    fn ask_answered(&mut self, checked: &CheckedExpr) {
        for missing in self.examined(checked.expr()).certainly_needed() {
            self.never_known(checked, &missing);
            self.ask_known(&missing.name);
            self.assume_known(&missing.name);
        }
    }

    /// Tells of a name that a step waits for in vain: it is left out on every path.
    pub(super) fn never_known(&mut self, checked: &CheckedExpr, missing: &Missing) {
        let name = &missing.name;
        let Some(named) = self.names.get(name).filter(|named| self.is_never_answered(name, named)) else {
            return;
        };
        let why = self.why_missing(name, named);
        if let Some((source, span)) = checked.place(missing.span) {
            self.fault(never_known((source, span), name, why));
        }
    }

    fn is_never_answered(&self, name: &str, named: &NameFacts) -> bool {
        let known = self.conditions.met_known(name, named.version);
        let asked = match &named.answered {
            Answered::When(guard) => self.context.rules_out(guard),
            Answered::UnlessSkipped | Answered::Perhaps | Answered::IfAnyRound(_) | Answered::NotYet => false,
        };
        asked || known.is_some_and(|known| self.context.rules_out(&[known]))
    }
}
