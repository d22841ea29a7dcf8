//! What a run was made with, as its record keeps it.

use std::sync::Arc;

use super::failure::Failure;
use super::library::Library;
use crate::engine::{EarlierAnswers, Setting};
use crate::record::{Contents, Header, TextRole};
use crate::source::SourceText;
use crate::system::{self, System};

/// What a run was made with, from the texts its record keeps.
pub(super) fn setting(contents: &Contents) -> Result<Setting, Failure> {
    let header = &contents.header;
    let kept = |role| header.texts.iter().find(|text| text.role == role);
    let source = |text: &crate::record::KeptText| SourceText::new(text.name.as_str(), text.text.clone());
    let Some(main) = header.texts.iter().find(|text| text.role.is_procedure()) else {
        return Err(Failure::Call(format!("The record {} does not keep its procedure.", header.id)));
    };
    let procedure = Library::of_record(&header.texts).load_source(&source(main))?;
    let system = match kept(TextRole::System) {
        Some(text) => system::load(&source(text))?,
        None => System::default(),
    };
    let tank = tank_of(header, &system);
    Ok(Setting {
        procedure: Arc::new(procedure),
        name: header.procedure.clone(),
        system: Arc::new(system),
        tank,
        units: header.units,
        past: EarlierAnswers::default(),
    })
}

fn tank_of(header: &Header, system: &System) -> usize {
    let place =
        header.tank.as_ref().and_then(|id| system.tanks.iter().position(|tank| tank.id.as_ref() == id));
    place.unwrap_or(0)
}
