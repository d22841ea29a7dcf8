//! `diagnose`: one diagnosis from all that was read and seen.

use crate::procedure::keys::{Takes, key};
use crate::procedure::paper::{Paper, PaperLine, Said};
use crate::procedure::step::{Action, Course, Diagnose, Step};
use crate::procedure::verb::{DraftAction, Verb};
use crate::record::Phase;

/// The stages that can be diagnosed, by their words.
const STAGES: [(&str, Phase); 2] = [("found", Phase::Found), ("left", Phase::Left)];
const WORDS: [&str; 2] = [STAGES[0].0, STAGES[1].0];

pub(super) const VERB: Verb = Verb {
    key: key("diagnose", Takes::OneOf(&WORDS), "how things were found, or how they are left"),
    sentence: "a diagnosis from all answers that are of something, with findings, the next test and what to do for now",
    keys: &[],
    answered: false,
    draft: |fields, _| {
        let stage = fields.text("diagnose")?;
        DraftAction::checked_by(move |_, checking| {
            let phase = checking.one_of(&stage, &STAGES, ("unknown-word", "is nothing to diagnose"))?;
            Some(Diagnose { phase })
        })
    },
};

impl Action for Diagnose {
    fn course(&self) -> Course<'_> {
        Course::Diagnose(self)
    }

    fn outline(&self, _: &Step) -> Vec<Said> {
        let stage =
            STAGES.iter().find(|(_, phase)| *phase == self.phase).map(|(word, _)| (*word).to_string());
        vec![("Diagnosis of the system as", stage)]
    }

    fn on_paper(&self, _: &Step, _: &mut dyn Paper) -> Option<PaperLine> {
        None
    }
}
