//! `run`: perform a procedure.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::arguments::{UNITS, WorkOrder, one_of};
use super::conversation::Conversation;
use super::from_paper;
use super::installation::offer_to_keep;
use super::past::past;
use super::unseen::unseen;
use super::{Done, Failure, Home, Occasion, Result, Stage};
use crate::clock::Moment;
use crate::console::{Block, Ended, Prompt, Reply, ReplyKind};
use crate::engine::{Run, Setting};
use crate::procedure::{Procedure, is_shipped, part_name, shipped};
use crate::quantity::Units;
use crate::record::{FileStorage, Header, Recorder, Trouble, name_for};
use crate::system::System;
use crate::words::{list, non_empty};

/// What is to be performed, on what; what plays it (`answers`, `demo`) is for whoever sets the stage.
#[derive(Debug, Default, clap::Args)]
pub struct RunOrder {
    /// Which procedure, on what.
    #[command(flatten)]
    pub work: WorkOrder,
    /// Play the answers of a script: every question must be foreseen.
    #[arg(long, value_name = "FILE")]
    pub answers: Option<PathBuf>,
    /// Units to show and to take bare numbers in.
    #[arg(long, value_parser = one_of(UNITS))]
    pub units: Option<Units>,
    /// Type in a worksheet that was filled in by hand: its times are asked, nothing is counted down.
    #[arg(long)]
    pub from_paper: bool,
    /// Show the work on an invented installation, without a key pressed; nothing is kept.
    #[arg(long, value_name = "NAME", num_args = 0..=1, default_missing_value = "",
          conflicts_with_all = ["system", "tank", "answers", "units", "from_paper"])]
    pub demo: Option<String>,
}

/// Performs a procedure from its start.
///
/// # Errors
/// When a file is faulty, or the record cannot be written.
pub fn run(order: &RunOrder, home: &Home, stage: &mut Stage<'_>) -> Result<Done> {
    let (system, procedure, library) = order.work.loaded(home)?;
    let named = &order.work.procedure;
    if library.is_own(named) {
        let in_place = shipped(named).map_or("", |_| " in place of the one that came with the program");
        stage.show(Block::Aside, format!("Your own procedure `{named}` is used{in_place}."))?;
    }
    own_parts(&procedure, stage)?;
    for remark in library.remarks() {
        stage.show(Block::Aside, remark)?;
    }
    let units = order.units.or(system.units).unwrap_or_default();
    let chosen = match (procedure.is_for_one_tank(), order.work.tank.as_deref()) {
        (true, named) => choose_tank(&system, named, stage)?,
        (false, None) => Some(0),
        (false, Some(_)) => return Err(not_for_one_tank(&procedure)),
    };
    let Some(tank) = chosen else { return Ok(Done::Short) };
    let name = short_name(named);
    let (past, account) = past(&procedure, &system, home)?;
    if let Some(unseen) = unseen(&account) {
        stage.show(Block::Aside, format!("What was read last time may be missing. {unseen}"))?;
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
fn own_parts(procedure: &Procedure, stage: &mut Stage<'_>) -> Result<()> {
    let own = procedure.texts.iter().skip(1).filter(|source| !is_shipped(source));
    if let Some(names) = non_empty(list(own.map(|source| part_name(source.name())), "and")) {
        let text = format!("Your own parts are used, which did not come with the program: {names}.");
        stage.show(Block::Aside, text)?;
    }
    for left in procedure.waivers() {
        stage.show(Block::Aside, format!("Your file leaves out: {left}"))?;
    }
    Ok(())
}

/// Begins the record of a run and walks it.
pub(super) fn perform(
    setting: Setting,
    transcribed: Option<Moment>,
    home: &Home,
    stage: &mut Stage<'_>,
) -> Result<Done> {
    introduce(&setting.procedure, stage)?;
    let header = |id: String, started| Header { transcribed, ..setting.header(id, started) };
    let (recorder, id) = begin_record(&setting.name, header, &home.records(), stage)?;
    if let Some(warning) = recorder.warning() {
        stage.show(Block::Aside, warning)?;
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
) -> Result<(Recorder<FileStorage>, String)> {
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

pub(super) fn introduce(procedure: &Procedure, stage: &mut Stage<'_>) -> Result<()> {
    stage.show(Block::Heading, procedure.title.as_str())?;
    stage.show(Block::Text, procedure.purpose.as_str())?;
    if let Some(time) = &procedure.time {
        stage.show(Block::Aside, format!("Time: about {time}."))?;
    }
    if !procedure.bring.is_empty() {
        stage.show(Block::Aside, format!("Bring: {}.", procedure.bring.join("; ")))?;
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
pub(super) fn named_tank(system: &System, name: &str) -> Result<usize> {
    let ids: Vec<&str> = system.tanks.iter().map(|tank| tank.id.as_ref()).collect();
    if ids.is_empty() {
        return Err(Failure::Call("The system file names no tanks, so --tank cannot choose one.".into()));
    }
    let known = ids.iter().position(|id| *id == name);
    known.ok_or_else(|| Failure::unknown("The system file has no tank", name, &ids))
}

/// Which tank is worked on; `None` when the person left.
fn choose_tank(system: &System, named: Option<&str>, stage: &mut Stage<'_>) -> Result<Option<usize>> {
    let ids: Vec<&str> = system.tanks.iter().map(|tank| tank.id.as_ref()).collect();
    if let Some(name) = named {
        return named_tank(system, name).map(Some);
    }
    if ids.len() < 2 {
        return Ok(Some(0));
    }
    stage.show(Block::Text, "Which tank is worked on?")?;
    let name =
        |at| system.value("tank.name", at).map_or_else(String::new, |name| name.shown(Units::default()));
    let words = ids.iter().enumerate().map(|(at, id)| (id.to_string(), name(at)));
    let prompt = Prompt::new("which_tank", "tank", ReplyKind::OneOf(words.collect()));
    match stage.face.ask(&prompt) {
        Ok(Reply::Text(text)) => Ok(ids.iter().position(|id| *id == text)),
        Ok(Reply::Command(..)) => Ok(None),
        Err(Ended::NoMoreInput) => Err(Failure::Call(format!(
            "Several tanks are in the system file: choose one with --tank ({}).",
            ids.join(", ")
        ))),
        Err(ended) => Failure::unless_left(ended).map(|()| None),
    }
}
