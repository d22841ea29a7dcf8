//! `compute`: a value worked out from what is known.

use std::sync::Arc;

use crate::lang::{RawTemplate, Type};
use crate::procedure::drafting::DraftExpr;
use crate::procedure::keys::{SAY, Takes, UNSURE, key};
use crate::procedure::paper::{Paper, PaperLine, Said, may_say, written};
use crate::procedure::step::{Action, Compute, Course, Step};
use crate::procedure::verb::{DraftAction, Verb};

pub(in crate::procedure) const VERB: Verb = Verb {
    key: key("compute", Takes::Expression, "what is to be worked out"),
    sentence: "a value to work out from what is known, and to tell if `say` is given",
    keys: &[SAY, UNSURE],
    answered: false,
    draft: |fields, drafting| {
        let expr = drafting.expr(fields, "compute")?;
        let [say, unsure] = ["say", "unsure"].map(|key| drafting.text(fields, key));
        computed(expr, say, unsure)
    },
};

/// A value to work out, with what is told of it.
pub(in crate::procedure) fn computed(
    expr: DraftExpr,
    say: Option<RawTemplate>,
    unsure: Option<RawTemplate>,
) -> Option<DraftAction> {
    DraftAction::checked_by(move |step, checking| {
        let checked = checking.expr(&expr, None)?;
        if let Type::Series(..) = checked.ty() {
            let fault = expr.quoted.fault("series", "a series cannot be the value of a step");
            let remedy = "take one value of it: last(…), mean(…), min(…), max(…) or sum(…)";
            return checking.none(fault.remedy(remedy));
        }
        let unsure = checking.optional_text(&unsure);
        step.define(checking, checked.ty().kind());
        Some(Compute { expr: Arc::new(checked), say: checking.optional_text(&say), unsure })
    })
}

impl Action for Compute {
    fn course(&self) -> Course<'_> {
        Course::Compute(self)
    }

    fn outline(&self, step: &Step) -> Vec<Said> {
        let result = format!("{} = {}", step.id, written(&self.expr));
        vec![("Work out", Some(result)), may_say("Told", &self.say)]
    }

    fn on_paper(&self, step: &Step, paper: &mut dyn Paper) -> Option<PaperLine> {
        if paper.may_be_left_out() || !paper.determines(&step.id, &self.expr) {
            paper.in_table(&step.id, &self.expr);
        }
        None
    }
}
