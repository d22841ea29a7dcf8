//! `each`: steps for every tank of the system, one tank after the other.

use crate::procedure::check_steps::check_steps;
use crate::procedure::keys::{STEPS, Takes, key};
use crate::procedure::paper::{Paper, PaperLine, Said};
use crate::procedure::step::{Action, Course, Each, LoopKind, Step};
use crate::procedure::verb::{DraftAction, Verb};

pub(super) const VERB: Verb = Verb {
    key: key("each", Takes::OneOf(&["tank"]), "for what the steps are done, one after the other"),
    sentence: "steps for every \"tank\" of the system, one after the other",
    keys: &[STEPS],
    answered: false,
    draft: |fields, _| {
        let what = fields.text("each")?;
        DraftAction::checked_by(move |step, checking| {
            let fault = |message: &str, remedy: &str| what.fault("each", message).remedy(remedy);
            if what.text != "tank" {
                return checking
                    .none(fault("steps can only be done for each tank", "write `each = \"tank\"`"));
            }
            if checking.loops().contains(&LoopKind::Each) {
                return checking.none(fault("an `each` stands inside another", "take the inner one out"));
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
