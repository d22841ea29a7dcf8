//! `compute`: a value worked out from what is known.

use std::sync::Arc;

use super::{DraftAction, Verb};
use crate::lang::{Checked, RawTemplate, Template, Type};
use crate::procedure::checking::Checking;
use crate::procedure::draft::DraftExpr;
use crate::source::Fault;

/// A value to compute.
#[derive(Clone, Debug)]
pub struct Compute {
    /// What is computed.
    pub expr: Arc<Checked>,
    /// What the person is told.
    pub say: Option<Template>,
    /// What the person is told when it cannot be worked out.
    pub unsure: Option<Template>,
}

#[derive(Clone, Debug)]
pub(in crate::procedure) struct Draft {
    expr: DraftExpr,
    say: Option<RawTemplate>,
    unsure: Option<RawTemplate>,
}

pub(super) const VERB: Verb = Verb {
    word: "compute",
    sentence: "a value to work out from what is known, and to tell if `say` is given",
    keys: &["say", "unsure"],
    draft: |fields, drafting, _| {
        Some(DraftAction::Compute(Draft {
            expr: drafting.expr(fields, "compute")?,
            say: drafting.text(fields, "say"),
            unsure: drafting.text(fields, "unsure"),
        }))
    },
};

impl Draft {
    /// A value to work out and say nothing of.
    pub(super) fn silent(expr: DraftExpr) -> Draft {
        Draft { expr, say: None, unsure: None }
    }

    pub(super) fn check(&self, checking: &mut Checking<'_>) -> Option<Compute> {
        let expr = checking.expr(&self.expr, None)?;
        if let Type::Series(..) = expr.ty() {
            let quoted = &self.expr.quoted;
            checking.fault(
                Fault::new("series", &quoted.source, quoted.span, "a series cannot be the value of a step")
                    .remedy("take one value of it: last(…), mean(…), min(…), max(…) or sum(…)"),
            );
            return None;
        }
        let unsure = checking.optional_text(&self.unsure);
        checking.define_step(&expr.ty().kind().clone(), 1);
        Some(Compute { expr: Arc::new(expr), say: checking.optional_text(&self.say), unsure })
    }
}
