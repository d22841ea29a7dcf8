//! What a step asks for by itself. One that only tells, works out, compares or concludes is left out where something that it
//! needs was not answered, as by a `when`: the file need not ask for that.
//!
//! A step with a hazard, one that must hold or that changes a state, and a finding that wants something done are never left
//! out so: nothing that can hurt is lost for want of a number.

use std::sync::Arc;

use super::step::{Course, Step};
use crate::lang::{CheckedExpr, Template};
use crate::record::Grade;

/// Something that must have been answered.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Needed<'a> {
    /// All that is looked at to work this out.
    Value(&'a CheckedExpr),
    /// The same, and there must be a value: it is shown, and nothing else is said.
    Shown(&'a CheckedExpr),
    /// A step.
    Step(&'a Arc<str>),
}

impl Step {
    /// What must have been answered for the step to be come to; nothing where it does more than to say something.
    pub(crate) fn asks_by_itself(&self) -> Vec<Needed<'_>> {
        if !(self.hazards.is_empty() && self.brings.is_empty() && self.undoes.is_empty()) {
            return Vec::new();
        }
        match self.course() {
            Course::State(_) => self.holes().map(Needed::Shown).collect(),
            Course::Compute(compute) => vec![Needed::Value(&compute.expr)],
            Course::Check(check) if !check.must => vec![Needed::Value(&check.expr)],
            Course::Conclude(conclude) if conclude.grade <= Grade::Note => {
                let shown = self.holes().map(Needed::Value);
                shown.chain(conclude.rests_on.iter().map(|(step, _)| Needed::Step(step))).collect()
            }
            Course::Ask(_)
            | Course::Check(_)
            | Course::Conclude(_)
            | Course::Diagnose(_)
            | Course::Repeat(_)
            | Course::Each(_)
            | Course::Stop(_) => Vec::new(),
        }
    }

    /// What is filled into the texts of its course.
    fn holes(&self) -> impl Iterator<Item = &CheckedExpr> {
        self.course().mentions().texts.into_iter().flat_map(Template::holes)
    }
}
