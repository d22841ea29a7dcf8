//! A run that is gone on with, as its record left it.

use std::path::Path;

use super::failure::Failure;
use super::kept_setting::setting;
use crate::clock::Moment;
use crate::engine::{Event, Run, RunInput};
use crate::record::Contents;

/// The run of a record as it stands, and what comes about as it is gone on with.
pub(super) fn replayed(contents: &Contents, path: &Path, now: Moment) -> Result<(Run, Vec<Event>), Failure> {
    let (mut run, mut events) =
        Run::replay(setting(contents)?, &contents.entries, now).map_err(|misfit| {
            Failure::Call(format!(
                "{}: entry {} does not fit its procedure: {}",
                path.display(),
                misfit.n,
                misfit.why
            ))
        })?;
    events.extend(run.take(RunInput::Resume, now).unwrap_or_default());
    Ok((run, events))
}
