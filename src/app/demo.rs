//! Demonstrations: invented installations that come with the program.

use std::path::PathBuf;
use std::sync::Arc;

use super::run::perform;
use super::{Done, Failure, Home, Library, Result, Stage};
use crate::console::Script;
use crate::disk::sweep;
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
    system: &'static str,
    answers: &'static str,
}

macro_rules! demo {
    ($name:literal, $procedure:literal) => {
        Demo {
            name: $name,
            procedure: $procedure,
            system: include_str!(concat!("../../transcripts-demo/", $name, "/system.toml")),
            answers: include_str!(concat!("../../transcripts-demo/", $name, "/answers.toml")),
        }
    };
}

/// Every demonstration; the first of a procedure is the one shown when none is named.
pub static DEMOS: &[Demo] = &[
    demo!("gritty-tank", "flush"),
    demo!("waterlogged-tank", "flush"),
    demo!("mountain-hut", "flush"),
    demo!("yard-spigot", "flush"),
    demo!("jumping-needle", "flush"),
    demo!("hill-cottage", "set-switch"),
    demo!("weak-pump", "set-switch"),
    demo!("night-pump", "short-cycling"),
    demo!("quick-pump", "short-cycling"),
    demo!("meadow-well", "disinfect"),
    demo!("flood-water", "disinfect"),
    demo!("lake-cabin", "lay-up"),
    demo!("frozen-corner", "lay-up"),
    demo!("lake-cabin-spring", "re-open"),
    demo!("cracked-pump", "re-open"),
    demo!("driveway-tank", "used-tank"),
    demo!("waterlogged-bargain", "used-tank"),
    demo!("larch-street", "new-tank"),
    demo!("leaky-new-tank", "new-tank"),
    demo!("clover-rise", "first-tank"),
    demo!("valve-before-relief", "first-tank"),
    demo!("second-tank", "add-tank"),
    demo!("sick-twin", "add-tank"),
    demo!("two-tanks-spring", "yearly"),
    demo!("hidden-dead-tank", "yearly"),
    demo!("handed-over", "commission"),
    demo!("left-as-shipped", "commission"),
    demo!("over-set", "commission"),
    demo!("spring-check", "precharge"),
    demo!("low-again", "precharge"),
    demo!("fading-shower", "trouble"),
    demo!("stuck-switch", "trouble"),
    demo!("running-toilet", "leak"),
    demo!("back-to-the-well", "leak"),
    demo!("days-to-wait", "failed-tank"),
    demo!("guessed-dead", "failed-tank"),
    demo!("old-galvanized", "plain-tank"),
    demo!("two-ports", "plain-tank"),
    demo!("cottage-jet", "prime"),
    demo!("foot-valve", "prime"),
];

impl Demo {
    /// The demonstration of that name, or the first of the procedure.
    ///
    /// # Errors
    /// When there is none.
    pub fn find(procedure: &str, name: Option<&str>) -> Result<&'static Demo> {
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
    pub fn script(&self) -> Result<Script> {
        let name = format!("transcripts-demo/{}/answers.toml", self.name);
        Ok(Script::load(&SourceText::new(name, self.answers))?)
    }

    /// Performs it on a stage set with its script; the record goes to `home`.
    ///
    /// # Errors
    /// As any run.
    pub fn perform(&self, home: &Home, stage: &mut Stage<'_>) -> Result<Done> {
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

/// How the names of passing folders begin.
const PASSING: &str = "tankhand-demo-";

/// A folder for the record of a demonstration, removed when it is dropped.
#[derive(Debug)]
pub(crate) struct PassingHome {
    folder: PathBuf,
}

impl PassingHome {
    /// Makes the folder.
    ///
    /// # Errors
    /// When it cannot be made.
    pub(crate) fn make() -> Result<PassingHome> {
        for n in 0..1_000_u32 {
            let folder = std::env::temp_dir().join(format!("{PASSING}{}-{n}", std::process::id()));
            match std::fs::create_dir(&folder) {
                Ok(()) => {
                    sweep(&folder, |name| name.starts_with(PASSING), |old| std::fs::remove_dir_all(old));
                    return Ok(PassingHome { folder });
                }
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
    pub(crate) fn home(&self) -> Result<Home> {
        Home::find(Some(&self.folder))
    }
}

impl Drop for PassingHome {
    fn drop(&mut self) {
        // What is left behind in a folder for passing things does no harm.
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}
