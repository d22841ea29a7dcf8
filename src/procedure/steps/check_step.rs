//! `check`: a comparison that yields pass, fail or can't tell.

use super::{DraftAction, Verb};
use crate::lang::{Checked, RawTemplate, Template};
use crate::procedure::checking::Checking;
use crate::procedure::draft::DraftExpr;
use crate::quantity::{Kind, Measure};

/// A comparison to make.
#[derive(Clone, Debug)]
pub struct Check {
    /// What should hold.
    pub expr: Checked,
    /// The run stops when it fails.
    pub must: bool,
    /// What is told when it holds.
    pub pass: Option<Template>,
    /// What is told when it does not.
    pub fail: Option<Template>,
    /// What is told when the numbers do not tell.
    pub unsure: Option<Template>,
    /// The time over which that came about which is compared, and in proportion to it: a longer
    /// one would tell more.
    pub over: Option<Checked>,
}

#[derive(Clone, Debug)]
pub(in crate::procedure) struct Draft {
    expr: DraftExpr,
    must: bool,
    pass: Option<RawTemplate>,
    fail: Option<RawTemplate>,
    unsure: Option<RawTemplate>,
    over: Option<DraftExpr>,
}

pub(super) const VERB: Verb = Verb {
    word: "check",
    sentence: "a comparison that yields pass, fail or can't tell",
    keys: &["must", "pass", "fail", "unsure", "over"],
    draft: |fields, drafting, _| {
        Some(DraftAction::Check(Draft {
            expr: drafting.expr(fields, "check")?,
            must: fields.flag("must"),
            pass: drafting.text(fields, "pass"),
            fail: drafting.text(fields, "fail"),
            unsure: drafting.text(fields, "unsure"),
            over: drafting.expr(fields, "over"),
        }))
    },
};

impl Draft {
    pub(super) fn check(&self, checking: &mut Checking<'_>) -> Option<Check> {
        let expr = checking.yes_no(&self.expr);
        let pass = checking.optional_text(&self.pass);
        let fail = checking.optional_text(&self.fail);
        let unsure = checking.optional_text(&self.unsure);
        let duration = Kind::Measure(Measure::Duration);
        let over = self.over.as_ref().and_then(|over| checking.expr(over, Some(&duration)));
        checking.define_step(&Kind::YesNo, 1);
        Some(Check { expr: expr?, must: self.must, pass, fail, unsure, over })
    }
}
