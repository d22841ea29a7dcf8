//! What a step says and looks at: told once, by all its fields, for the proofs and the searches.

use super::step::{Check, Compute, Conclude, Course, Diagnose, Each, Repeat, Statement, Stop};
use crate::lang::{CheckedExpr, Template};

/// Every text and every expression of a step's course, its body's apart.
pub(super) struct Mentions<'a> {
    pub texts: Vec<&'a Template>,
    pub looks_at: Vec<&'a CheckedExpr>,
}

impl<'a> Mentions<'a> {
    fn new(
        texts: impl IntoIterator<Item = &'a Template>,
        looks_at: impl IntoIterator<Item = &'a CheckedExpr>,
    ) -> Mentions<'a> {
        Mentions { texts: texts.into_iter().collect(), looks_at: looks_at.into_iter().collect() }
    }
}

impl<'a> Course<'a> {
    /// What it says and looks at. Every field is named here, so that a new one is not passed over.
    pub(super) fn mentions(self) -> Mentions<'a> {
        match self {
            Course::Ask(asks) => {
                let shown = asks.shows();
                Mentions::new(shown.texts(), shown.looks_at.iter().map(|(expr, _)| *expr))
            }
            Course::Compute(Compute { expr, say, unsure }) => {
                Mentions::new(say.iter().chain(unsure), [&**expr])
            }
            Course::Check(Check { expr, must: _, pass, fail, unsure, over }) => {
                Mentions::new(pass.iter().chain(fail).chain(unsure), std::iter::once(expr).chain(over))
            }
            Course::Conclude(Conclude { name: _, grade: _, says, next, again, rests_on: _ }) => {
                Mentions::new(std::iter::once(says).chain(next), again)
            }
            Course::Repeat(Repeat { until, at_least: _, at_most: _, say, body: _ }) => {
                Mentions::new(say, [until])
            }
            Course::State(Statement { text }) | Course::Stop(Stop { text, outcome: _ }) => {
                Mentions::new([text], [])
            }
            Course::Diagnose(Diagnose { phase: _ }) | Course::Each(Each { body: _ }) => Mentions::new([], []),
        }
    }
}
