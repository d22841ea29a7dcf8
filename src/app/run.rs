//! `run`: perform a procedure.

use std::path::Path;
use std::sync::Arc;

use super::conversation::{Conversation, Occasion, Stage};
use super::failure::{Done, Failure};
use super::from_paper;
use super::home::Home;
use super::installation::offer_to_keep;
use super::library::{Library, read_system};
use super::past::past;
use super::unseen::unseen;
use crate::clock::Moment;
use crate::console::{Block, Ended, Prompt, Reply, ReplyKind};
use crate::engine::{Run, Setting};
use crate::lang::Value;
use crate::procedure::{Procedure, is_shipped, part_name, shipped};
use crate::quantity::Units;
use crate::record::{FileStorage, Header, Recorder, Trouble, name_for};
use crate::system::System;
use crate::words::list;

/// What is to be performed, on what.
#[derive(Clone, Debug, Default)]
pub struct RunOrder<'a> {
    /// A procedure's name, or the path of its file.
    pub procedure: &'a str,
    /// The system file, when another than the owner's is meant.
    pub system: Option<&'a Path>,
    /// The tank, when the system has several.
    pub tank: Option<&'a str>,
    /// The units, when others than the household's are meant.
    pub units: Option<Units>,
    /// A sheet filled in by hand is typed in.
    pub from_paper: bool,
}

/// Performs a procedure from its start.
///
/// # Errors
/// When a file is faulty, or the record cannot be written.
pub fn run(order: &RunOrder<'_>, home: &Home, stage: &mut Stage<'_>) -> Result<Done, Failure> {
    let usual = home.system_file();
    let system = read_system(order.system, &usual)?;
    let library = Library::beside(order.system.unwrap_or(&usual));
    let procedure = library.load(order.procedure)?;
    if library.is_own(order.procedure) {
        let in_place =
            shipped(order.procedure).map_or("", |_| " in place of the one that came with the program");
        let text = format!("Your own procedure `{}` is used{in_place}.", order.procedure);
        stage.face.show(&Block::Aside(text))?;
    }
    own_parts(&procedure, stage)?;
    for remark in library.remarks() {
        stage.face.show(&Block::Aside(remark))?;
    }
    let units = order.units.or(system.units).unwrap_or_default();
    let chosen = match (procedure.is_for_one_tank(), order.tank) {
        (true, named) => choose_tank(&system, named, stage)?,
        (false, None) => Some(0),
        (false, Some(_)) => return Err(not_for_one_tank(&procedure)),
    };
    let Some(tank) = chosen else { return Ok(Done::Short) };
    let name = short_name(order.procedure);
    let (past, account) = past(&procedure, &system, home)?;
    if let Some(unseen) = unseen(&account) {
        stage.face.show(&Block::Aside(format!("What was read last time may be missing. {unseen}")))?;
    }
    let setting =
        Setting { procedure: Arc::new(procedure), name, system: Arc::new(system), tank, units, past };
    if order.from_paper {
        let lines = from_paper::sheet_lines(&setting);
        return from_paper::begin(lines, stage, |typed_at, stage| {
            perform(setting, Some(typed_at), home, stage)
        });
    }
    perform(setting, None, home, stage)
}

/// A tank that was named is recorded or refused, never passed over.
pub(super) fn not_for_one_tank(procedure: &Procedure) -> Failure {
    let why = match procedure.goes_round() {
        true => "takes all tanks in turn",
        false => "is not about a single tank",
    };
    Failure::Call(format!("\"{}\" {why}: leave --tank out.", procedure.title))
}

/// Says which parts are the owner's own, and what needs they leave out.
fn own_parts(procedure: &Procedure, stage: &mut Stage<'_>) -> Result<(), Failure> {
    let own = procedure.texts.iter().skip(1).filter(|source| !is_shipped(source));
    let names: Vec<&str> = own.map(|source| part_name(source.name())).collect();
    if !names.is_empty() {
        let text =
            format!("Your own parts are used, which did not come with the program: {}.", list(&names, "and"));
        stage.face.show(&Block::Aside(text))?;
    }
    for left in procedure.waivers() {
        stage.face.show(&Block::Aside(format!("Your file leaves out: {left}")))?;
    }
    Ok(())
}

/// Begins the record of a run and walks it.
pub(super) fn perform(
    setting: Setting,
    transcribed: Option<Moment>,
    home: &Home,
    stage: &mut Stage<'_>,
) -> Result<Done, Failure> {
    introduce(&setting.procedure, stage)?;
    let header = |id: String, started| Header { transcribed, ..setting.header(id, started) };
    let (recorder, id) = begin_record(&setting.name, header, &home.records(), stage)?;
    if let Some(warning) = recorder.warning() {
        stage.face.show(&Block::Aside(warning.to_string()))?;
    }
    let (run, first) = Run::begin(setting, stage.clock.now());
    let record = recorder.path().to_path_buf();
    let done = Conversation::new(stage, run, recorder, id).go(first)?;
    if stage.occasion == Occasion::Work {
        offer_to_keep(&record, home, stage)?;
    }
    Ok(done)
}

/// Begins a record in a folder, with a head made for the name it gets.
pub(super) fn begin_record(
    name: &str,
    header: impl Fn(String, Moment) -> Header,
    folder: &Path,
    stage: &Stage<'_>,
) -> Result<(Recorder<FileStorage>, String), Failure> {
    let started = stage.clock.now();
    loop {
        let id = name_for(folder, started, name);
        match Recorder::create(folder, &header(id.clone(), started)) {
            Ok(recorder) => return Ok((recorder, id)),
            // Another run took the name in the meantime: take the next.
            Err(fault) if matches!(fault.trouble, Trouble::Exists) => {}
            Err(fault) => return Err(fault.into()),
        }
    }
}

pub(super) fn introduce(procedure: &Procedure, stage: &mut Stage<'_>) -> Result<(), Failure> {
    let face = &mut stage.face;
    face.show(&Block::Heading(procedure.title.clone()))?;
    face.show(&Block::Text(procedure.purpose.clone()))?;
    if let Some(time) = &procedure.time {
        face.show(&Block::Aside(format!("Time: about {time}.")))?;
    }
    if !procedure.bring.is_empty() {
        face.show(&Block::Aside(format!("Bring: {}.", procedure.bring.join("; "))))?;
    }
    Ok(())
}

/// The name a record goes by: the file's stem when a path was given.
pub(super) fn short_name(procedure: &str) -> String {
    let stem = Path::new(procedure).file_stem().and_then(|stem| stem.to_str()).unwrap_or("procedure");
    let plain = |c: char| if c.is_ascii_alphanumeric() || c == '-' { c } else { '-' };
    stem.chars().map(plain).take(60).collect()
}

/// The place of the tank of that id.
pub(super) fn named_tank(system: &System, name: &str) -> Result<usize, Failure> {
    let ids: Vec<&str> = system.tanks.iter().map(|tank| tank.id.as_ref()).collect();
    match ids.iter().position(|id| *id == name) {
        Some(at) => Ok(at),
        None if ids.is_empty() => {
            Err(Failure::Call("The system file names no tanks, so --tank cannot choose one.".into()))
        }
        None => Err(Failure::Call(format!(
            "The system file has no tank `{}`: {}",
            name.escape_debug(),
            crate::words::did_you_mean(name, &ids)
        ))),
    }
}

/// What the owner calls the tank at that place; empty when no name is given.
fn name_of(system: &System, at: usize) -> String {
    match system.value("tank.name", at) {
        Some(Value::Text(name)) => name.to_string(),
        _ => String::new(),
    }
}

/// Which tank is worked on; `None` when the person left.
fn choose_tank(
    system: &System,
    named: Option<&str>,
    stage: &mut Stage<'_>,
) -> Result<Option<usize>, Failure> {
    let ids: Vec<&str> = system.tanks.iter().map(|tank| tank.id.as_ref()).collect();
    if let Some(name) = named {
        return named_tank(system, name).map(Some);
    }
    if ids.len() < 2 {
        return Ok(Some(0));
    }
    stage.face.show(&Block::Text("Which tank is worked on?".to_string()))?;
    let words = ids.iter().enumerate().map(|(at, id)| (id.to_string(), name_of(system, at)));
    let prompt = Prompt::new("which_tank", "tank", ReplyKind::OneOf(words.collect()));
    match stage.face.ask(&prompt) {
        Ok(Reply::Text(text)) => Ok(ids.iter().position(|id| *id == text)),
        Ok(Reply::Command(..)) | Err(Ended::Interrupted) => Ok(None),
        Err(Ended::NoMoreInput) => Err(Failure::Call(format!(
            "Several tanks are in the system file: choose one with --tank ({}).",
            ids.join(", ")
        ))),
        Err(Ended::Script(fault)) => Err(Failure::Faults(vec![*fault])),
        Err(Ended::Io(error)) => Err(error.into()),
    }
}
