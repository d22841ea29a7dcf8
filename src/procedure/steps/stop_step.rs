//! `stop`: the end of the work, with a verdict in words.

use super::{DraftAction, Verb};
use crate::lang::{RawTemplate, Template};
use crate::procedure::checking::Checking;
use crate::source::{Fault, Quoted};
use crate::words::did_you_mean;

/// The end of the work.
#[derive(Clone, Debug)]
pub struct Stop {
    /// The verdict.
    pub text: Template,
    /// What it means for the run.
    pub outcome: StopOutcome,
}

/// What a stop means for the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StopOutcome {
    /// The tank or the installation failed.
    Failed,
    /// The work could not be ended.
    Unfinished,
}

#[derive(Clone, Debug)]
pub(in crate::procedure) struct Draft {
    text: RawTemplate,
    outcome: Option<Quoted>,
}

pub(super) const VERB: Verb = Verb {
    word: "stop",
    sentence: "the end of the work, with a verdict in words",
    keys: &["outcome"],
    draft: |fields, drafting, _| {
        Some(DraftAction::Stop(Draft {
            text: drafting.text(fields, "stop")?,
            outcome: fields.text("outcome"),
        }))
    },
};

impl Draft {
    pub(super) fn check(&self, checking: &mut Checking<'_>) -> Option<Stop> {
        let text = checking.text(&self.text)?;
        let outcome = match self.outcome.as_ref().map(|outcome| (outcome.text.as_str(), outcome)) {
            None | Some(("failed", _)) => StopOutcome::Failed,
            Some(("unfinished", _)) => StopOutcome::Unfinished,
            Some((other, quoted)) => {
                checking.fault(
                    Fault::new(
                        "unknown-word",
                        &quoted.source,
                        quoted.span,
                        format!("`{}` is no outcome", other.escape_debug()),
                    )
                    .remedy(did_you_mean(other, &["failed", "unfinished"])),
                );
                return None;
            }
        };
        Some(Stop { text, outcome })
    }
}
