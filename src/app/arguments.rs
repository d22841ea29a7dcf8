//! Options of several commands, and the words they take.

use std::path::PathBuf;

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};

use super::library::read_system;
use super::{Home, Library, OutputForm, Result};
use crate::procedure::Procedure;
use crate::quantity::Units;
use crate::system::System;

/// Which procedure, on what.
#[derive(Debug, Default, clap::Args)]
pub struct WorkOrder {
    /// A procedure's name, or the path of its file (ending in .toml).
    pub procedure: String,
    /// The system file, when another than your own is meant.
    #[arg(long, value_name = "FILE")]
    pub system: Option<PathBuf>,
    /// The tank to work on, by its id in the system file.
    #[arg(long, value_name = "ID")]
    pub tank: Option<String>,
}

impl WorkOrder {
    /// The installation and the procedure, with where that was found.
    pub(super) fn loaded(&self, home: &Home) -> Result<(System, Procedure, Library)> {
        let usual = home.system_file();
        let system = read_system(self.system.as_deref(), &usual)?;
        let library = Library::beside(self.system.as_ref().unwrap_or(&usual));
        Ok((system, library.load(&self.procedure)?, library))
    }
}

/// The words that an argument takes: each with its meaning, where that needs telling, and what it stands for.
pub(crate) type ArgumentWords<T> = &'static [(&'static str, Option<&'static str>, T)];

/// Units to show and to take bare numbers in.
pub(crate) const UNITS: ArgumentWords<Units> = &[
    ("us", Some("psi, gallons, °F, feet"), Units::Us),
    ("metric", Some("bar, litres, °C, metres"), Units::Metric),
];

/// Pages for people, or JSON for programs.
pub(crate) const FORMATS: ArgumentWords<OutputForm> =
    &[("text", None, OutputForm::Text), ("json", None, OutputForm::Json)];

/// Takes one of the words of a table for what it stands for.
pub(crate) fn one_of<T: Copy + Send + Sync>(words: ArgumentWords<T>) -> impl TypedValueParser<Value = T> {
    let known = words.iter().map(|(word, means, _)| {
        let value = PossibleValue::new(*word);
        if let Some(means) = means { value.help(*means) } else { value }
    });
    let stands_for = move |typed: String| {
        let row = words.iter().find(|(word, ..)| *word == typed);
        row.map(|(.., value)| *value).ok_or("it is none of the words")
    };
    PossibleValuesParser::new(known).try_map(stands_for)
}
