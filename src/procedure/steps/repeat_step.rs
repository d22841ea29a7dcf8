//! `repeat`: steps that come round until something holds, with a bound.

use std::rc::Rc;

use super::{DraftAction, Verb, check_steps};
use crate::document::Fields;
use crate::lang::{Checked, RawTemplate, Template};
use crate::procedure::checking::{Checking, Loop};
use crate::procedure::draft::{DraftExpr, DraftStep, draft_steps};
use crate::procedure::limits::MOST_ROUNDS;
use crate::procedure::model::Step;
use crate::source::Fault;

/// Steps to repeat.
#[derive(Clone, Debug)]
pub struct Repeat {
    /// The rounds end when this holds.
    pub until: Checked,
    /// There are at least this many; 0 lets `until` hold before the first.
    pub at_least: u32,
    /// There are at most this many.
    pub at_most: u32,
    /// What is told after each round.
    pub say: Option<Template>,
    /// The steps of a round.
    pub body: Vec<Step>,
}

#[derive(Clone, Debug)]
pub(in crate::procedure) struct Draft {
    until: Option<DraftExpr>,
    at_least: u32,
    at_most: Option<u32>,
    say: Option<RawTemplate>,
    pub(in crate::procedure) body: Vec<Rc<DraftStep>>,
}

pub(super) const VERB: Verb = Verb {
    word: "repeat",
    sentence: "steps that come round until something holds, at most so often",
    keys: &["say", "step"],
    draft: |fields, drafting, depth| {
        let bounds = fields.table("repeat")?;
        bounds.only(&["until", "at_most", "at_least"]);
        let until = if bounds.has("until") {
            drafting.expr(&bounds, "until")
        } else {
            bounds.missing("until", "what must hold for the rounds to end");
            None
        };
        if !bounds.has("at_most") {
            unbounded(&bounds);
        }
        let body = draft_steps(fields, drafting, depth + 1);
        if body.is_empty() {
            fields.missing("step", "[[step.step]] tables below the `repeat`");
        }
        Some(DraftAction::Repeat(Draft {
            until,
            at_least: bounds.whole("at_least", 0..=MOST_ROUNDS).unwrap_or(1),
            at_most: bounds.whole("at_most", 1..=MOST_ROUNDS),
            say: drafting.text(fields, "say"),
            body,
        }))
    },
};

fn unbounded(bounds: &Fields<'_>) {
    bounds.walk().fault(
        Fault::new("no-bound", bounds.source(), bounds.span, "this loop has no bound")
            .why("Someone stands in the pump house until it ends.")
            .remedy("add `at_most = …`, the most rounds that make sense"),
    );
}

impl Draft {
    pub(super) fn check(&self, checking: &mut Checking<'_>) -> Option<Repeat> {
        let before = checking.known();
        // With no round at all nothing inside is answered, so `until` may only look outside.
        let early = self.until.as_ref().filter(|_| self.at_least == 0);
        let early = early.map(|until| checking.yes_no(until));
        checking.enter(Loop::Repeat);
        let body = check_steps(&self.body, checking);
        let until = match early {
            Some(until) => until,
            None => self.until.as_ref().and_then(|until| checking.yes_no(until)),
        };
        let say = checking.optional_text(&self.say);
        checking.leave(before);
        let at_most = self.at_most?;
        Some(Repeat { until: until?, at_least: self.at_least.min(at_most), at_most, say, body })
    }
}
