//! `wait`: a time to wait, counted down.

use super::{DraftAction, Verb};
use crate::lang::{Checked, RawTemplate, Template};
use crate::procedure::checking::Checking;
use crate::procedure::draft::DraftExpr;
use crate::quantity::{Kind, Measure};

/// A time to wait.
#[derive(Clone, Debug)]
pub struct Wait {
    /// How long.
    pub length: Checked,
    /// What to do meanwhile.
    pub ask: Option<Template>,
    /// It may be ended early.
    pub early: bool,
}

#[derive(Clone, Debug)]
pub(in crate::procedure) struct Draft {
    length: DraftExpr,
    ask: Option<RawTemplate>,
    early: bool,
}

pub(super) const VERB: Verb = Verb {
    word: "wait",
    sentence: "a time to wait, counted down; its value is how long was waited",
    keys: &["ask", "early"],
    draft: |fields, drafting, _| {
        Some(DraftAction::Wait(Draft {
            length: drafting.expr(fields, "wait")?,
            ask: drafting.text(fields, "ask"),
            early: fields.flag("early"),
        }))
    },
};

impl Draft {
    pub(super) fn check(&self, checking: &mut Checking<'_>) -> Option<Wait> {
        let kind = Kind::Measure(Measure::Duration);
        let length = checking.expr(&self.length, Some(&kind));
        let ask = checking.optional_text(&self.ask);
        checking.define_step(&kind, 1);
        Some(Wait { length: length?, ask, early: self.early })
    }
}
