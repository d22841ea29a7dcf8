//! Demonstrations: invented installations that come with the program.

use std::path::PathBuf;
use std::sync::Arc;

use super::conversation::Stage;
use super::failure::{Done, Failure};
use super::home::Home;
use super::library::Library;
use super::run::perform;
use crate::console::Script;
use crate::engine::{EarlierAnswers, Setting};
use crate::source::SourceText;
use crate::system;

/// An invented installation, and the answers that are given there.
#[derive(Debug)]
pub struct Demo {
    /// The name of its folder.
    pub name: &'static str,
    /// The procedure that is performed.
    pub procedure: &'static str,
    /// What it shows, in a sentence.
    pub shows: &'static str,
    system: &'static str,
    answers: &'static str,
}

macro_rules! demo {
    ($name:literal, $procedure:literal, $shows:literal) => {
        Demo {
            name: $name,
            procedure: $procedure,
            shows: $shows,
            system: include_str!(concat!("../../transcripts-demo/", $name, "/system.toml")),
            answers: include_str!(concat!("../../transcripts-demo/", $name, "/answers.toml")),
        }
    };
}

/// Every demonstration; the first of a procedure is the one shown when none is named.
pub static DEMOS: &[Demo] = &[
    demo!("gritty-tank", "flush", "an old tank full of grit is flushed until the water runs clear"),
    demo!("waterlogged-tank", "flush", "a tank is found waterlogged with a torn bladder, and the work stops"),
    demo!("mountain-hut", "flush", "a metric household at 1800 m with a jet pump"),
    demo!("hill-cottage", "set-switch", "a switch is brought from 30/50 to 40/60, and the air with it"),
    demo!(
        "weak-pump",
        "set-switch",
        "after the first turns the pump cannot reach its stop, and the work ends"
    ),
    demo!("night-pump", "short-cycling", "a pump that starts at night: a leak in the house, not the tank"),
    demo!("quick-pump", "short-cycling", "a pump that starts every few seconds: the rubber is torn"),
    demo!("meadow-well", "disinfect", "a metric household disinfects well, tank and pipes"),
    demo!("flood-water", "disinfect", "after a flood the work stops before any bleach is opened"),
    demo!("lake-cabin", "lay-up", "a cabin with a jet pump is laid up before the frost"),
    demo!("frozen-corner", "lay-up", "a tank without a drain cannot be laid up"),
    demo!("lake-cabin-spring", "re-open", "the cabin is opened again, and mice were at the pipe"),
    demo!("cracked-pump", "re-open", "the frost has cracked the pump, and nothing is filled"),
    demo!("driveway-tank", "used-tank", "a used tank in the driveway passes a night's test"),
    demo!("waterlogged-bargain", "used-tank", "a cheap used tank turns out to be full of water"),
    demo!("larch-street", "new-tank", "a new tank takes the place of a torn one"),
    demo!("leaky-new-tank", "new-tank", "a new tank from a sale does not hold its air, and goes back"),
    demo!("second-tank", "add-tank", "a second tank joins the first, and the pump starts half as often"),
    demo!("sick-twin", "add-tank", "the old tank had only lost its air, so no second one is needed"),
    demo!("two-tanks-spring", "yearly", "two tanks, one found shut, are matched and proven open"),
    demo!("hidden-dead-tank", "yearly", "a dead tank is found behind a good one"),
    demo!("handed-over", "commission", "a plumber's work is put on record, before and after"),
    demo!("left-as-shipped", "commission", "two new tanks were left with the air they were shipped with"),
    demo!("over-set", "commission", "a pump that runs up too high is found, and the work stops"),
];

impl Demo {
    /// The demonstration of that name, or the first of the procedure.
    ///
    /// # Errors
    /// When there is none.
    pub fn find(procedure: &str, name: Option<&str>) -> Result<&'static Demo, Failure> {
        let mut fitting = DEMOS.iter().filter(|demo| demo.procedure == procedure);
        let found = match name {
            None | Some("") => fitting.next(),
            Some(name) => fitting.find(|demo| demo.name == name),
        };
        found.ok_or_else(|| {
            let known: Vec<String> =
                DEMOS.iter().map(|demo| format!("run {} --demo {}", demo.procedure, demo.name)).collect();
            Failure::Call(format!("There is no such demonstration. There is: {}", known.join(", ")))
        })
    }

    /// The script of its answers.
    ///
    /// # Errors
    /// Its faults; those that come with the program have none.
    pub fn script(&self) -> Result<Script, Failure> {
        let name = format!("transcripts-demo/{}/answers.toml", self.name);
        Ok(Script::load(&SourceText::new(name, self.answers))?)
    }

    /// Performs it on a stage set with its script; the record goes to `home`.
    ///
    /// # Errors
    /// As any run.
    pub fn perform(&self, home: &Home, stage: &mut Stage<'_>) -> Result<Done, Failure> {
        let name = format!("transcripts-demo/{}/system.toml", self.name);
        let system = system::load(&SourceText::new(name, self.system))?;
        let procedure = Library::default().load(self.procedure)?;
        let units = system.units.unwrap_or_default();
        let setting = Setting {
            procedure: Arc::new(procedure),
            name: self.procedure.to_string(),
            system: Arc::new(system),
            tank: 0,
            units,
            past: EarlierAnswers::default(),
        };
        perform(setting, None, home, stage)
    }
}

/// A folder for the record of a demonstration, removed when it is dropped.
#[derive(Debug)]
pub struct PassingHome {
    folder: PathBuf,
}

impl PassingHome {
    /// Makes the folder.
    ///
    /// # Errors
    /// When it cannot be made.
    pub fn make() -> Result<PassingHome, Failure> {
        for n in 0..1_000_u32 {
            let folder = std::env::temp_dir().join(format!("tankhand-demo-{}-{n}", std::process::id()));
            match std::fs::create_dir(&folder) {
                Ok(()) => return Ok(PassingHome { folder }),
                Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {}
                Err(error) => return Err(error.into()),
            }
        }
        Err(Failure::Machine("No passing folder could be made for the demonstration.".into()))
    }

    /// As a home.
    ///
    /// # Errors
    /// Never; as [`Home::find`].
    pub fn home(&self) -> Result<Home, Failure> {
        Home::find(Some(&self.folder))
    }
}

impl Drop for PassingHome {
    fn drop(&mut self) {
        // What is left behind in a folder for passing things does no harm.
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}
