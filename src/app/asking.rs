//! Questions outside a run: put, and answered or left.

use super::{Failure, Result, Stage};
use crate::console::{Prompt, Reply, ReplyKind};

/// An answer; `None` when nobody answers.
pub(super) fn ask(stage: &mut Stage<'_>, step: &str, asked: (&str, ReplyKind)) -> Result<Option<String>> {
    ask_usual(stage, step, asked, None)
}

/// An answer, with the one that Enter gives.
pub(super) fn ask_usual(
    stage: &mut Stage<'_>,
    step: &str,
    (label, expects): (&str, ReplyKind),
    usual: Option<&str>,
) -> Result<Option<String>> {
    let prompt = Prompt { usual: usual.map(ToString::to_string), ..Prompt::new(step, label, expects) };
    match stage.face.ask(&prompt) {
        Ok(Reply::Text(text)) => Ok(Some(text)),
        Ok(Reply::Command(..)) => Ok(None),
        Err(ended) => Failure::unless_left(ended).map(|()| None),
    }
}

/// Whether a thing is agreed to: by Enter or `yes`.
pub(super) fn agreed(stage: &mut Stage<'_>, step: &str, label: &str) -> Result<bool> {
    Ok(ask_usual(stage, step, (label, ReplyKind::yes_or_no()), Some("yes"))?.as_deref() == Some("yes"))
}
