//! Parts: each proven by itself from what its head says, and at its uses only by that.
//!
//! Of a state that the head does not speak of, a part knows neither that it holds nor that it does
//! not: it holds under a condition that nobody can ask for. What still holds under that condition
//! at the end was left as it was. The same is done for the messages of hazards, so that the proof
//! tells which of them the user must have shown before.

use std::sync::Arc;

use super::conditions::{Condition, Guard, both};
use super::entered::Entered;
use super::hazards::shown;
use super::names::{Answered, NameFacts};
use super::prover::Prover;
use super::states::StateChange;
use super::words::{given_perhaps, gives_perhaps, or_left_out};
use crate::lang::CheckedExpr;
use crate::procedure::contract::{Certainty, Contract, Interface, Placed, Proven, Term};
use crate::procedure::model::Procedure;
use crate::procedure::no_value::NoValue;
use crate::procedure::place::SourcePlace;
use crate::source::{Fault, Span};

/// Proves a part by itself, whose head stands at `head`.
///
/// # Errors
/// What could go wrong on one of its paths, and what its head says wrongly.
pub(in crate::procedure) fn prove_part(
    procedure: &Procedure,
    interface: &Interface,
    head: Span,
    in_repeat: bool,
) -> Result<Proven, Vec<Fault>> {
    let mut walk = Prover::new(procedure);
    walk.repeats = u32::from(in_repeat);
    walk.enter(interface);
    let ends = walk.block(&procedure.steps);
    let mut proven = Proven { ends, weighs: walk.weight(), ..Proven::default() };
    if !ends {
        let source = procedure.texts.first().cloned();
        let place = source.map(|source| SourcePlace { source, span: head });
        walk.leave(interface, place, &mut proven);
    }
    let entered = walk.entered.take().unwrap_or_default();
    proven.wary = entered.wary;
    proven.decides = entered.decides;
    let faults = walk.into_faults();
    if faults.is_empty() { Ok(proven) } else { Err(faults) }
}

impl Prover<'_> {
    /// What is certain at the beginning of a part.
    fn enter(&mut self, interface: &Interface) {
        for term in &interface.takes {
            self.conditions.chosen_from(&term.id.name, term.ty.kind());
            self.names.answer(term.id.name.clone(), given_fact(term));
        }
        let mut entered = Entered::default();
        let needed = interface.needs.iter().map(|contract| contract.state.clone());
        let states: Vec<Arc<str>> = self.touched(&self.procedure.steps).into_iter().chain(needed).collect();
        for state in states {
            let before = self.conditions.fresh();
            self.states.bring(&state, Guard::from_slice(&[before]), &self.conditions);
            entered.before.insert(state, before);
        }
        for contract in &interface.needs {
            let guard = self.guard_of(contract.when.as_ref());
            self.states.bring(&contract.state, guard, &self.conditions);
            for hazard in self.procedure.hazards_of(&contract.state) {
                if !entered.before.contains_key(shown(hazard)) {
                    let before = self.conditions.fresh();
                    self.states.bring(shown(hazard), Guard::from_slice(&[before]), &self.conditions);
                    entered.before.insert(shown(hazard).clone(), before);
                }
            }
        }
        self.entered = Some(entered);
    }

    pub(super) fn guard_of(&mut self, when: Option<&CheckedExpr>) -> Guard {
        when.map_or_else(Guard::new, |when| self.conditions_of(when.expr(), true))
    }

    pub(super) fn holds(&self, state: &str) -> bool {
        let standing = self.states.get(state);
        standing.is_some_and(|standing| standing.holds(&self.context, &self.conditions))
    }

    /// Whether a state holds where something more does.
    pub(super) fn holds_given(&mut self, state: &str, more: &[Condition]) -> bool {
        let mark = self.context.mark();
        more.iter().for_each(|condition| self.context.assume(*condition));
        let holds = self.holds(state);
        self.context.back_to(mark);
        holds
    }

    /// Holds what is certain at the end of a part against its head.
    fn leave(&mut self, interface: &Interface, head: Option<SourcePlace>, proven: &mut Proven) {
        for contract in &interface.brings {
            let guard = self.guard_of(contract.when.as_ref());
            if !self.holds_given(&contract.state, &guard) {
                let fault = self.not_brought(&contract.state, &contract.place);
                self.fault(fault);
            }
        }
        let before = self.entered.as_ref().map(|entered| entered.before.clone()).unwrap_or_default();
        for state in self.procedure.states.iter().map(|state| state.id.clone()) {
            if let Some(condition) = before.get(&state) {
                self.left_as_it_was(&state, *condition, interface, head.as_ref());
            }
        }
        self.leave_hazards(interface, proven);
        proven.gives = interface.gives.iter().map(|term| self.certainty(term)).collect();
    }

    /// Tells of a state that may have ended in the part, though the head does not say so.
    fn left_as_it_was(
        &mut self,
        state: &Arc<str>,
        before: Condition,
        interface: &Interface,
        head: Option<&SourcePlace>,
    ) {
        let always = |contracts: &[Contract]| {
            contracts.iter().any(|contract| contract.state == *state && contract.when.is_none())
        };
        if always(&interface.undoes) || always(&interface.brings) {
            return;
        }
        let mut more = Guard::from_slice(&[before]);
        for contract in interface.undoes.iter().filter(|contract| contract.state == *state) {
            if let Some(when) = &contract.when {
                more.extend(self.conditions_of(when.expr(), false));
            }
        }
        if !self.holds_given(state, &more)
            && let Some(head) = head
        {
            let fault = self.not_undone(state, head);
            self.fault(fault);
        }
    }

    /// How certain a name is at the end of a part.
    fn certainty(&mut self, term: &Term) -> Certainty {
        let name = &term.id.name;
        let Some(named) = self.names.get(name).cloned() else { return Certainty::Perhaps };
        if self.is_known(name) {
            return Certainty::Sure;
        }
        let answered = matches!(&named.answered, Answered::When(guard) if self.context.has(guard));
        let certainty = match &named.limit {
            _ if !answered => Certainty::Perhaps,
            None => Certainty::Sure,
            Some(NoValue::Given(_)) => Certainty::AsGiven,
            Some(limit @ (NoValue::Because(_) | NoValue::LeftOut(_))) => Certainty::Limited(limit.clone()),
        };
        if !term.maybe && matches!(certainty, Certainty::Perhaps | Certainty::Limited(_)) {
            let why = match &certainty {
                Certainty::Limited(limit) => format!("{limit}."),
                Certainty::Sure | Certainty::AsGiven | Certainty::Perhaps => self.why_missing(name, &named),
            };
            self.fault(or_left_out(gives_perhaps(term, why), named.limit.as_ref(), name));
        }
        certainty
    }

    /// Walks over a part by its head; `true` when the run certainly ends in it.
    pub(super) fn placed(&mut self, placed: &Placed) -> bool {
        let interface = &*placed.interface;
        let maybe_undefined = self.given(interface, &placed.place);
        for contract in &interface.needs {
            self.needed(contract, &placed.place);
        }
        for hazard in &interface.proven.wary {
            self.wary(hazard, None, &placed.place);
        }
        if interface.proven.ends {
            return true;
        }
        self.done_by_part(interface, &placed.place);
        self.findings_at(&placed.place, interface.proven.weighs);
        for (term, certainty) in interface.gives.iter().zip(&interface.proven.gives) {
            self.gets(term, certainty, maybe_undefined.as_ref());
        }
        false
    }

    /// Looks at what a part takes; returns why some of it may have no value.
    fn given(&mut self, interface: &Interface, place: &SourcePlace) -> Option<NoValue> {
        let mut maybe_undefined: Option<NoValue> = None;
        for term in interface.takes.iter().filter(|term| !term.maybe) {
            let name = &term.id.name;
            let Some(named) = self.names.get(name) else { continue };
            if self.is_known(name) {
                continue;
            }
            let answered = matches!(&named.answered, Answered::When(guard) if self.context.has(guard));
            let limit = named.limit.clone();
            let why = match &limit {
                _ if !answered => Some(self.why_missing(name, &named.clone())),
                Some(limit) => {
                    let before = maybe_undefined.take();
                    maybe_undefined = Some(before.map_or(limit.clone(), |before| before.and(limit.clone())));
                    let decides = interface.proven.decides.contains(name);
                    if decides {
                        self.decided_by(limit);
                    }
                    let own = decides && !matches!(limit, NoValue::Given(_));
                    own.then(|| format!("{limit}."))
                }
                None => None,
            };
            if let Some(why) = why {
                let fault = given_perhaps(interface, term, place, why);
                self.fault(or_left_out(fault, limit.as_ref(), name));
            }
        }
        maybe_undefined
    }

    /// Tells of a state that a part needs and that may not hold where it does.
    fn needed(&mut self, contract: &Contract, place: &SourcePlace) {
        let guard = self.guard_of(contract.when.as_ref());
        if self.quiet == 0 && !self.holds_given(&contract.state, &guard) {
            self.lacks(&contract.state, place);
        }
    }

    /// What a part does to states.
    fn done_by_part(&mut self, interface: &Interface, place: &SourcePlace) {
        let guard = self.context.guard();
        let named = format!("`{}`", interface.name);
        for contract in &interface.undoes {
            let when = both(&guard, &self.guard_of(contract.when.as_ref()));
            self.states.end(&contract.state, &when, &self.conditions);
            self.states.note(&contract.state, Some(StateChange::Ended(named.clone(), place.clone())));
        }
        self.hazards_of_part(interface);
        for contract in &interface.brings {
            let when = both(&guard, &self.guard_of(contract.when.as_ref()));
            self.states.bring(&contract.state, when.clone(), &self.conditions);
            let past =
                (!when.is_empty()).then(|| StateChange::BroughtWhen(named.clone(), place.clone(), when));
            self.states.note(&contract.state, past);
        }
    }

    /// A name that a part gives.
    fn gets(&mut self, term: &Term, certainty: &Certainty, maybe_undefined: Option<&NoValue>) {
        let guard = self.context.guard();
        let limit = match certainty {
            Certainty::Limited(limit) => Some(limit.clone()),
            Certainty::AsGiven => maybe_undefined.cloned(),
            Certainty::Sure | Certainty::Perhaps => None,
        };
        let answered = match certainty {
            Certainty::Perhaps => Answered::Perhaps,
            Certainty::Sure | Certainty::AsGiven | Certainty::Limited(_) => Answered::When(guard.clone()),
        };
        let implies = if self.repeats == 0 { guard } else { Guard::new() };
        let place = Some(term.id.place.clone());
        self.names.answer(term.id.name.clone(), NameFacts { version: 0, answered, implies, limit, place });
    }

    /// A value that only the user of the part can vouch for decides what is done here.
    pub(super) fn decided_by(&mut self, limit: &NoValue) {
        if let Some(entered) = &mut self.entered {
            entered.decides.extend(limit.names().iter().cloned());
        }
    }
}

fn given_fact(term: &Term) -> NameFacts {
    let answered = if term.maybe { Answered::Perhaps } else { Answered::When(Guard::new()) };
    let place = Some(term.id.place.clone());
    NameFacts {
        version: 0,
        answered,
        implies: Guard::new(),
        limit: Some(NoValue::given(&term.id.name)),
        place,
    }
}
