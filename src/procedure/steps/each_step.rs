//! `each`: steps for every tank of the system, one tank after the other.

use crate::procedure::check_steps::check_steps;
use crate::procedure::keys::{STEPS, Takes, key};
use crate::procedure::paper::{Paper, PaperLine, Said};
use crate::procedure::step::{Action, Course, Each, LoopKind, Step};
use crate::procedure::verb::{DraftAction, Verb};
use crate::source::Fault;

pub(super) const VERB: Verb = Verb {
    key: key("each", Takes::OneOf(&["tank"]), "for what the steps are done, one after the other"),
    sentence: "steps for every \"tank\" of the system, one after the other",
    keys: &[STEPS],
    answered: false,
    draft: |fields, _| {
        let what = fields.text("each")?;
        DraftAction::checked_by(move |step, checking| {
            let fault = |message: &str, remedy: &str| {
                Fault::new("each", &what.source, what.span, message).remedy(remedy)
            };
            if what.text != "tank" {
                checking.fault(fault("steps can only be done for each tank", "write `each = \"tank\"`"));
                return None;
            }
            if checking.in_each() {
                checking.fault(fault("an `each` stands inside another", "take the inner one out"));
                return None;
            }
            let before = checking.known();
            checking.enter(LoopKind::Each);
            let body = check_steps(&step.body, checking);
            checking.leave(before);
            Some(Each { body })
        })
    },
};

impl Action for Each {
    fn course(&self) -> Course<'_> {
        Course::Each(self)
    }

    fn outline(&self, _: &Step) -> Vec<Said> {
        vec![("", Some("For each tank:".to_string()))]
    }

    fn on_paper(&self, _: &Step, _: &mut dyn Paper) -> Option<PaperLine> {
        None
    }
}
