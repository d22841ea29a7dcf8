//! `practice`: a procedure at the kitchen table, against a simulated installation.

use std::path::PathBuf;
use std::sync::Arc;

use super::arguments::{UNITS, one_of};
use super::conversation::Conversation;
use super::kept_setting::replayed;
use super::run::{begin_record, introduce, short_name};
use super::{Done, Failure, Home, Library, Result, Stage};
use crate::console::Block;
use crate::engine::{AnswerKind, Ask, EarlierAnswers, Event, Run, Setting};
use crate::owner::{DEFECTS, Defect, Household, KINDS, Mistakes, Owner, defect};
use crate::procedure::Procedure;
use crate::quantity::{Random, Units};
use crate::record::{Contents, Entry, FileStorage, Grade, Header, Practiced, Recorder};

/// The word for an installation at which nothing is wrong.
const SOUND: &str = "none";

/// What is to be practiced; what plays it (`answers`) is for whoever sets the stage.
#[derive(Debug, Default, clap::Args)]
pub struct PracticeOrder {
    /// A procedure's name, or the path of its file (ending in .toml).
    pub procedure: String,
    /// What is wrong at the installation; `none` for nothing. Without it chance decides.
    #[arg(long, value_name = "NAME")]
    pub fault: Option<String>,
    /// The number of the installation: the same number gives the same one.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(..=9_999_999_999))]
    pub seed: Option<u64>,
    /// Play the answers of a script: every question must be foreseen.
    #[arg(long, value_name = "FILE")]
    pub answers: Option<PathBuf>,
    /// Units to show and to take bare numbers in.
    #[arg(long, value_parser = one_of(UNITS))]
    pub units: Option<Units>,
}

/// Performs a procedure at a simulated installation, and says at the end what was wrong there.
///
/// # Errors
/// When a file is faulty, there is no such fault, or the record cannot be written.
pub fn practice(order: &PracticeOrder, home: &Home, stage: &mut Stage<'_>) -> Result<Done> {
    let library = Library::beside(&home.system_file());
    let procedure = Arc::new(library.load(&order.procedure)?);
    let seed = order.seed.unwrap_or_else(|| stage.clock.now().unix_seconds().unsigned_abs());
    let fault = which_fault(order.fault.as_deref(), seed)?.map_or(SOUND, |wrong| wrong.name).to_string();
    let practiced = Practiced { fault, seed };
    let place = SimulatedPlace::of(&practiced, &procedure)?;
    let setting = Setting {
        name: short_name(&order.procedure),
        system: Arc::new(place.owner.household().system()?),
        tank: 0,
        units: order.units.unwrap_or_default(),
        past: EarlierAnswers::default(),
        procedure,
    };
    introduce(&setting.procedure, stage)?;
    let text = format!(
        "A practice at a simulated installation, number {seed}. Type what you would type there; nothing here is real."
    );
    stage.show(Block::Aside, text)?;
    let header =
        |id: String, started| Header { practice: Some(practiced.clone()), ..setting.header(id, started) };
    let (recorder, id) = begin_record(&setting.name, header, &home.practice(), stage)?;
    let (run, first) = Run::begin(setting.clone(), stage.clock.now());
    place.perform(Conversation::new(stage, run, recorder, id), first)
}

/// Goes on with a practice that was left, at the same installation: what was done there is done again first.
pub(super) fn go_on_practicing(
    practiced: &Practiced,
    (recorder, contents): (Recorder<FileStorage>, &Contents),
    stage: &mut Stage<'_>,
) -> Result<Done> {
    let (run, events) = replayed(contents, recorder.path(), stage.clock.now())?;
    let mut place = SimulatedPlace::of(practiced, &run.setting().procedure)?;
    place.relive(run.setting(), &contents.entries);
    place.perform(Conversation::new(stage, run, recorder, contents.header.id.clone()), events)
}

/// A simulated installation with its owner, and what is wrong there.
struct SimulatedPlace {
    owner: Owner,
    wrong: Option<&'static Defect>,
}

impl SimulatedPlace {
    fn of(practiced: &Practiced, procedure: &Procedure) -> Result<SimulatedPlace> {
        let wrong = which_fault(Some(&practiced.fault), practiced.seed)?;
        let mut household = Household::at_random(practiced.seed);
        household.suit(procedure);
        if let Some(wrong) = wrong {
            wrong.apply(&mut household);
        }
        Ok(SimulatedPlace { owner: Owner::new(household, Mistakes::default(), practiced.seed), wrong })
    }

    /// Does again what was done before each answer of a record.
    fn relive(&mut self, setting: &Setting, entries: &[Entry]) {
        for (at, entry) in entries.iter().enumerate() {
            let before = entries.get(..at).filter(|_| !entry.is_derived() && !entry.kind.is_aside());
            let stood = before.and_then(|before| Run::replay(setting.clone(), before, entry.at).ok());
            let asked = stood.and_then(|(run, _)| Some((run.ask()?, run)));
            match asked {
                Some((Ask { expects: AnswerKind::WaitOver { whole, .. }, .. }, _)) => {
                    self.owner.waits(whole.as_secs_f64());
                }
                Some((ask, run)) => drop(self.owner.practices(&run, &ask)),
                None => {}
            }
            self.owner.learns([entry]);
        }
    }

    fn perform(mut self, conversation: Conversation<'_, '_>, first: Vec<Event>) -> Result<Done> {
        let (done, conversation) = conversation.practice(&mut self.owner, first)?;
        if conversation.run.ended().is_some() {
            for block in debriefing(self.wrong, &conversation.run) {
                conversation.stage.face.show(&block)?;
            }
        }
        Ok(done)
    }
}

/// The fault that is meant; one drawn from the seed, or none, where none is named.
fn which_fault(named: Option<&str>, seed: u64) -> Result<Option<&'static Defect>> {
    match named {
        Some(SOUND) => Ok(None),
        Some(name) => defect(name).map(Some).ok_or_else(|| {
            let known = DEFECTS.iter().chain(KINDS).map(|it| it.name);
            Failure::unknown("There is no fault", name, std::iter::once(SOUND).chain(known))
        }),
        None => {
            let any: Vec<_> = DEFECTS.iter().map(Some).chain([None]).collect();
            Ok(Random::new(seed).one_of(&any))
        }
    }
}

/// What was wrong, held against what the run said of it.
fn debriefing(wrong: Option<&Defect>, run: &Run) -> Vec<Block> {
    let truth = match wrong {
        Some(wrong) => format!("At this installation {}.", wrong.means),
        None => "At this installation nothing was wrong.".to_string(),
    };
    let found = run.worst_names();
    let said = match (run.ended(), found.is_empty()) {
        (None, _) => "The run was not brought to its end.".to_string(),
        (Some((_, word)), true) => format!("The run's last word was: {word}"),
        (Some(_), false) => format!("The run found: {}.", found.join("; ")),
    };
    let missed = wrong.is_some_and(Defect::is_wrong) && run.grade() == Some(Grade::Good);
    let mut blocks =
        vec![Block::Heading("What was wrong".to_string()), Block::Text(truth), Block::Text(said)];
    if missed {
        blocks.push(Block::Text(
            "So it stayed hidden. Look at what you typed against what was to be seen.".to_string(),
        ));
    }
    blocks
}
