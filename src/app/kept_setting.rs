//! What a run was made with, as its record keeps it, and the run as that left it.

use std::path::Path;
use std::sync::Arc;

use super::{Failure, Library, Result};
use crate::clock::Moment;
use crate::engine::{EarlierAnswers, Event, Run, RunInput, Setting};
use crate::record::{Contents, KeptText, TextRole};
use crate::source::SourceText;
use crate::system::{self, System};

/// What a run was made with, from the texts its record keeps.
pub(super) fn setting(contents: &Contents) -> Result<Setting> {
    let header = &contents.header;
    let source = |text: &KeptText| SourceText::new(text.name.as_str(), text.text.clone());
    let Some(main) = header.texts.iter().find(|text| text.role.is_procedure()) else {
        return Err(Failure::Call(format!("The record {} does not keep its procedure.", header.id)));
    };
    let procedure = Library::of_record(&header.texts).load_source(&source(main))?;
    let system = match header.texts.iter().find(|text| text.role == TextRole::System) {
        Some(text) => system::load(&source(text))?,
        None => System::default(),
    };
    let tank = system.tanks.iter().position(|tank| Some(tank.id.as_ref()) == header.tank.as_deref());
    Ok(Setting {
        procedure: Arc::new(procedure),
        name: header.procedure.clone(),
        system: Arc::new(system),
        tank: tank.unwrap_or(0),
        units: header.units,
        past: EarlierAnswers::default(),
    })
}

/// The run of a record as it stands, and what comes about as it is gone on with.
pub(super) fn replayed(contents: &Contents, path: &Path, now: Moment) -> Result<(Run, Vec<Event>)> {
    let (mut run, mut events) =
        Run::replay(setting(contents)?, &contents.entries, now).map_err(|misfit| {
            let why = format!("entry {} does not fit its procedure: {}", misfit.n, misfit.why);
            Failure::about(path, why)
        })?;
    events.extend(run.take(RunInput::Resume, now).unwrap_or_default());
    Ok((run, events))
}
