//! `each`: steps for every tank of the system, one tank after the other.

use std::rc::Rc;

use super::{DraftAction, Verb, check_steps};
use crate::procedure::checking::{Checking, Loop};
use crate::procedure::draft::{DraftStep, draft_steps};
use crate::procedure::model::Step;
use crate::source::{Fault, Quoted};

/// Steps for each tank.
#[derive(Clone, Debug)]
pub struct Each {
    /// The steps.
    pub body: Vec<Step>,
}

#[derive(Clone, Debug)]
pub(in crate::procedure) struct Draft {
    what: Quoted,
    pub(in crate::procedure) body: Vec<Rc<DraftStep>>,
}

pub(super) const VERB: Verb = Verb {
    word: "each",
    sentence: "steps for every \"tank\" of the system, one after the other",
    keys: &["step"],
    draft: |fields, drafting, depth| {
        let body = draft_steps(fields, drafting, depth + 1);
        if body.is_empty() {
            fields.missing("step", "[[step.step]] tables below the `each`");
        }
        Some(DraftAction::Each(Draft { what: fields.text("each")?, body }))
    },
};

impl Draft {
    pub(super) fn check(&self, checking: &mut Checking<'_>) -> Option<Each> {
        let fault = |message: &str, remedy: &str| {
            Fault::new("each", &self.what.source, self.what.span, message).remedy(remedy)
        };
        if self.what.text != "tank" {
            checking.fault(fault("steps can only be done for each tank", "write `each = \"tank\"`"));
            return None;
        }
        if checking.in_each() {
            checking.fault(fault("an `each` stands inside another", "take the inner one out"));
            return None;
        }
        let before = checking.known();
        checking.enter(Loop::Each);
        let body = check_steps(&self.body, checking);
        checking.leave(before);
        Some(Each { body })
    }
}
