//! Expressions at the place of the walk: what is wrong with them, and what follows from them.

use super::conditions::{Condition, Guard, parts};
use super::entered::is_borne;
use super::examine::{Examined, examine};
use super::names::Answered;
use super::prover::Prover;
use crate::lang::{Binary, CheckedExpr, Expr, Node};
use crate::procedure::shown::Use;
use crate::source::{Fault, Quoted, Span};

impl Prover<'_> {
    /// Examines an expression and tells what is wrong with it for its use.
    pub(super) fn look<'e>(&mut self, checked: &'e CheckedExpr, used: Use) -> Examined<'e> {
        let mut found = self.examined(checked.expr());
        if used == Use::When && !found.is_certain() {
            let lacking = self.lacking_in_turn(checked.expr());
            found.keep(&lacking);
        }
        if self.quiet == 0 {
            // A condition on what nobody answered does not hold.
            let unanswered: Vec<&str> = found.unanswered().collect();
            let borne = |name: &str| used == Use::When && unanswered.contains(&name);
            for missing in found.missing.iter().filter(|missing| !borne(&missing.name)) {
                let fault = self.missing(checked, missing, used);
                self.faults_of(fault);
            }
            let undefined = found.maybe_undefined.iter();
            for undefined in undefined.filter(|it| !it.name.as_deref().is_some_and(borne)) {
                if used.must_be_defined() {
                    self.decided_by(&undefined.limit);
                }
                if !is_borne(&undefined.limit, used) {
                    let fault = self.maybe_undefined(checked, undefined, used);
                    self.faults_of(fault);
                }
            }
        }
        found
    }

    /// Where a condition lacks a value, each part of its `and`s looked at where those before it hold.
    fn lacking_in_turn(&mut self, expr: &Expr) -> Vec<Span> {
        let mark = self.context.mark();
        let mut lacking = Vec::new();
        for (part, outcome) in parts(expr, true) {
            lacking.extend(self.examined(part).lacking());
            self.assume(part, outcome);
        }
        self.context.back_to(mark);
        lacking
    }

    fn faults_of(&mut self, fault: Option<Fault>) {
        if let Some(fault) = fault {
            self.fault(fault);
        }
    }

    pub(super) fn examined<'e>(&self, expr: &'e Expr) -> Examined<'e> {
        examine(expr, &self.names, &self.context, &|name| self.is_known(name))
    }

    /// Whether a name was answered on every path to this place.
    pub(super) fn is_answered(&self, name: &str) -> bool {
        let Some(named) = self.names.get(name) else { return true };
        let answered = matches!(&named.answered, Answered::When(guard) if self.context.has(guard));
        answered || self.is_known(name)
    }

    /// Whether it is certain that a name has a value.
    pub(super) fn is_known(&self, name: &str) -> bool {
        let known = self.conditions.met_known(name, self.names.version(name));
        known.is_some_and(|known| self.context.has(&[known]))
    }

    /// Tells of a name that may not have been answered here, and must have been: a finding that rests on it must.
    pub(super) fn rests_on(&mut self, name: &str, place: &Quoted) {
        let Some(named) = self.names.get(name).filter(|_| !self.is_answered(name)) else { return };
        let why = self.why_missing(name, named);
        let fault = place.fault("rests-on", format!("`{name}` may not have been answered here"));
        let remedy = format!("add `when = \"known({name})\"` to the finding, or take it out of `rests_on`");
        self.fault(fault.why(format!("{why} A finding rests on what was certainly tested.")).remedy(remedy));
    }

    /// The conditions that hold when `expr` is `outcome`.
    pub(super) fn conditions_of(&mut self, expr: &Expr, outcome: bool) -> Guard {
        let names = &self.names;
        let conditions = &mut self.conditions;
        parts(expr, outcome)
            .into_iter()
            .map(|(part, outcome)| {
                let condition = conditions.of(part, &|name| names.version(name));
                if outcome { condition } else { condition.opposite() }
            })
            .collect()
    }

    /// A `when` holds from here on.
    pub(super) fn ask(&mut self, expr: &Expr) {
        for condition in self.conditions_of(expr, true) {
            self.context.ask(condition);
            self.no_other_word(condition);
        }
    }

    /// A `when` asks for an answer from here on.
    pub(super) fn ask_known(&mut self, name: &str) {
        let Some(named) = self.names.get(name) else { return };
        let condition = self.conditions.known(name, named.version);
        self.context.ask(condition);
    }

    pub(super) fn assume(&mut self, expr: &Expr, outcome: bool) {
        for condition in self.conditions_of(expr, outcome) {
            self.context.assume(condition);
            self.no_other_word(condition);
        }
    }

    /// A name that is one word is no other.
    fn no_other_word(&mut self, condition: Condition) {
        for other in self.conditions.others(condition) {
            self.context.assume(other.opposite());
        }
    }

    /// A name has a value from here on; what that implies holds too.
    pub(super) fn assume_known(&mut self, name: &str) {
        let Some(named) = self.names.get(name) else { return };
        let condition = self.conditions.known(name, named.version);
        self.context.assume(condition);
        named.implies.iter().for_each(|implied| self.context.assume(*implied));
    }

    /// What a `check` with `must` proves: it did not fail. Where it may have no value at all
    /// nothing is proven from there on, since it can't tell then.
    pub(super) fn passed(&mut self, expr: &Expr) {
        for (part, outcome) in parts(expr, true) {
            let found = self.examined(part);
            if !found.maybe_undefined.is_empty() {
                break;
            }
            let known = if outcome { &found.proves.if_true } else { &found.proves.if_false };
            known.iter().for_each(|name| self.assume_known(name));
            if self.is_certain(part) {
                self.assume(part, outcome);
            }
        }
    }

    /// Whether a condition is yes or no without uncertainty, so that it holds when it did not fail.
    #[expect(clippy::wildcard_enum_match_arm, reason = "it looks for one shape of expression")]
    fn is_certain(&self, expr: &Expr) -> bool {
        let is_word = |x: &Expr| matches!(x.node, Node::Word(_));
        match &expr.node {
            Node::Known(..) => true,
            Node::Name(name) => self.names.get(name).is_some_and(|named| named.place.is_none()),
            Node::Binary(Binary::Compare(_), _, a, b) => is_word(a) || is_word(b),
            _ => false,
        }
    }
}
