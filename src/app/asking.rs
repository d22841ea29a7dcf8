//! Questions outside a run: put, and answered or left.

use super::conversation::Stage;
use super::failure::Failure;
use crate::console::{Ended, Prompt, Reply, ReplyKind};

/// An answer; `None` when nobody answers.
pub(super) fn ask(
    stage: &mut Stage<'_>,
    step: &str,
    asked: (&str, ReplyKind),
) -> Result<Option<String>, Failure> {
    ask_usual(stage, step, asked, None)
}

/// An answer, with the one that Enter gives.
pub(super) fn ask_usual(
    stage: &mut Stage<'_>,
    step: &str,
    (label, expects): (&str, ReplyKind),
    usual: Option<&str>,
) -> Result<Option<String>, Failure> {
    let prompt = Prompt { usual: usual.map(ToString::to_string), ..Prompt::new(step, label, expects) };
    match stage.face.ask(&prompt) {
        Ok(Reply::Text(text)) => Ok(Some(text)),
        Ok(Reply::Command(..)) | Err(Ended::Interrupted | Ended::NoMoreInput) => Ok(None),
        Err(Ended::Script(fault)) => Err(Failure::Faults(vec![*fault])),
        Err(Ended::Io(error)) => Err(error.into()),
    }
}
