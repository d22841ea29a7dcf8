//! `practice`: a procedure at the kitchen table, against a simulated installation.

use std::sync::Arc;

use super::conversation::{Conversation, Stage};
use super::failure::{Done, Failure};
use super::home::Home;
use super::library::Library;
use super::run::{begin_record, introduce, short_name};
use crate::console::Block;
use crate::engine::{EarlierAnswers, Run, Setting};
use crate::owner::{DEFECTS, Defect, Household, KINDS, Mistakes, Owner, defect};
use crate::quantity::Units;
use crate::record::Grade;
use crate::words::did_you_mean;

/// The word for an installation at which nothing is wrong.
const SOUND: &str = "none";

/// What is to be practiced.
#[derive(Clone, Debug, Default)]
pub struct PracticeOrder<'a> {
    /// A procedure's name, or the path of its file.
    pub procedure: &'a str,
    /// What is wrong at the installation; drawn from the seed when it is not named.
    pub fault: Option<&'a str>,
    /// Which installation: the same seed gives the same one.
    pub seed: Option<u64>,
    /// The units.
    pub units: Option<Units>,
}

/// Performs a procedure at a simulated installation, and says at the end what was wrong there.
///
/// # Errors
/// When a file is faulty, there is no such fault, or the record cannot be written.
pub fn practice(order: &PracticeOrder<'_>, home: &Home, stage: &mut Stage<'_>) -> Result<Done, Failure> {
    let library = Library::beside(&home.system_file());
    let procedure = Arc::new(library.load(order.procedure)?);
    let seed = order.seed.unwrap_or_else(|| stage.clock.now().unix_seconds().unsigned_abs());
    let wrong = which_fault(order.fault, seed)?;
    let mut household = Household::at_random(seed);
    household.suit(&procedure);
    if let Some(wrong) = wrong {
        wrong.apply(&mut household);
    }
    let setting = Setting {
        name: short_name(order.procedure),
        system: Arc::new(household.system()?),
        tank: 0,
        units: order.units.unwrap_or_default(),
        past: EarlierAnswers::default(),
        procedure,
    };
    introduce(&setting.procedure, stage)?;
    let text = format!(
        "A practice at a simulated installation, number {seed}. Type what you would type there; nothing here is real."
    );
    stage.face.show(&Block::Aside(text))?;
    let mut owner = Owner::new(household, Mistakes::default(), seed);
    let header =
        |id: String, started| crate::record::Header { practice: true, ..setting.header(id, started) };
    let (recorder, id) = begin_record(&setting.name, header, &home.practice(), stage)?;
    let (run, first) = Run::begin(setting.clone(), stage.clock.now());
    let (done, conversation) = Conversation::new(stage, run, recorder, id).practice(&mut owner, first)?;
    let lines = debriefing(wrong, &conversation.run);
    for block in lines {
        conversation.stage.face.show(&block)?;
    }
    Ok(done)
}

/// The fault that is meant; one drawn from the seed, or none, where none is named.
fn which_fault(named: Option<&str>, seed: u64) -> Result<Option<&'static Defect>, Failure> {
    match named {
        Some(SOUND) => Ok(None),
        Some(name) => match defect(name) {
            Some(found) => Ok(Some(found)),
            None => {
                let known: Vec<&str> =
                    std::iter::once(SOUND).chain(DEFECTS.iter().chain(KINDS).map(|it| it.name)).collect();
                let remedy = did_you_mean(name, &known);
                Err(Failure::Call(format!("There is no fault `{}`: {remedy}", name.escape_debug())))
            }
        },
        None => {
            let at = usize::try_from(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) >> 33).unwrap_or(0);
            Ok(DEFECTS.get(at % (DEFECTS.len() + 1)))
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
