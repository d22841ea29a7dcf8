//! `stop`: the end of the work, with a verdict in words.

use crate::procedure::keys::{Takes, key};
use crate::procedure::paper::{Paper, PaperLine, Said, Slot, said};
use crate::procedure::step::{Action, Course, Step, Stop, StopOutcome};
use crate::procedure::verb::{DraftAction, Verb};

/// What a stop may mean, as a file names it.
const OUTCOMES: &[(&str, StopOutcome)] =
    &[("failed", StopOutcome::Failed), ("unfinished", StopOutcome::Unfinished)];

pub(super) const VERB: Verb = Verb {
    key: key("stop", Takes::Template, "the verdict with which the work ends"),
    sentence: "the end of the work, with a verdict in words",
    keys: &[key("outcome", Takes::OneOf(&["failed", "unfinished"]), "what the stop means for the run")],
    answered: false,
    draft: |fields, drafting| {
        let text = drafting.text(fields, "stop")?;
        let outcome = fields.text("outcome");
        DraftAction::checked_by(move |_, checking| {
            let text = checking.text(&text)?;
            let outcome = match &outcome {
                None => StopOutcome::Failed,
                Some(word) => checking.one_of(word, OUTCOMES, ("unknown-word", "is no outcome"))?,
            };
            Some(Stop { text, outcome })
        })
    },
};

impl Action for Stop {
    fn course(&self) -> Course<'_> {
        Course::Stop(self)
    }

    fn outline(&self, _: &Step) -> Vec<Said> {
        let word = match self.outcome {
            StopOutcome::Failed => "Stop, failed",
            StopOutcome::Unfinished => "Stop, unfinished",
        };
        vec![said(word, &self.text)]
    }

    fn on_paper(&self, _: &Step, paper: &mut dyn Paper) -> Option<PaperLine> {
        Some(PaperLine::new(format!("STOP. {}", paper.text(&self.text)), Slot::Nothing))
    }
}
