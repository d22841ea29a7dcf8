//! The owner's installation: switch, pump, tanks, gauges, relief valve, elevation.
//!
//! A system file is TOML; what it may hold stands in one [table](PATHS). Everything in it is
//! optional: what is not there is asked when a procedure needs it.

mod amount;
mod common;
mod gauges;
mod grades;
mod load;
mod load_gauge;
mod paths;
mod pipe_sizes;
mod sizes;

use std::collections::BTreeMap;
use std::sync::Arc;

pub(crate) use common::{COMMON_GAUGES, GAUGE_KINDS};
pub use common::{FINEST_SHARE, finest};
pub use gauges::{Accuracy, Gauge, Reads};
pub use grades::{DialGrade, GRADES};
pub use load::load;
pub(crate) use load_gauge::GAUGE_KEYS;
pub use paths::PATHS;
pub(crate) use paths::{PathEntry, PathKind, paths_of};
pub use pipe_sizes::sold_pipe;
pub use sizes::{TANK_SIZES, load_sizes};

use crate::lang::Value;
use crate::quantity::Units;
use crate::source::SourceText;

/// An installation.
#[derive(Clone, Debug, Default)]
pub struct System {
    /// What the owner calls it.
    pub name: Option<String>,
    /// The units the household reads.
    pub units: Option<Units>,
    /// Made up, for a demonstration.
    pub invented: bool,
    /// The probability at which checks say pass or fail, where the owner asks for one.
    pub confidence: Option<f64>,
    /// Its tanks, in the order of the file.
    pub tanks: Vec<Tank>,
    gauges: Vec<Gauge>,
    values: BTreeMap<&'static str, Value>,
    text: Option<SourceText>,
}

/// One tank.
#[derive(Clone, Debug)]
pub struct Tank {
    /// The short name it is called by on the command line and in records.
    pub id: Arc<str>,
    values: BTreeMap<&'static str, Value>,
}

impl System {
    /// The value at a path such as `switch.cut_in`; for `tank.…` that of the tank given by its
    /// place in [`tanks`](System::tanks).
    pub fn value(&self, path: &str, tank: usize) -> Option<&Value> {
        match path.starts_with("tank.") {
            true => self.tanks.get(tank)?.values.get(path),
            false => self.values.get(path),
        }
    }

    /// What the owner calls the tank at that place in [`tanks`](System::tanks), else `tank` and its id; `None`
    /// where there is no such tank.
    pub fn tank_called(&self, tank: usize) -> Option<String> {
        let named = self.value("tank.name", tank).map(|name| name.shown(Units::default()));
        named.or_else(|| self.tanks.get(tank).map(|tank| format!("tank {}", tank.id)))
    }

    /// The same without what the owner calls it and its gauges.
    pub fn without_names(&self) -> System {
        let mut unnamed = System { name: None, ..self.clone() };
        for gauge in &mut unnamed.gauges {
            gauge.name = gauge.id.clone();
            (gauge.serial, gauge.compared) = (None, None);
        }
        unnamed
    }

    /// The gauge of that name: the owner's, else one as commonly found.
    pub fn gauge(&self, id: &str) -> Option<&Gauge> {
        self.gauges.iter().chain(COMMON_GAUGES.iter()).find(|gauge| gauge.id == id)
    }

    /// Every gauge there is: the owner's, and those commonly found for the rest.
    pub fn gauges(&self) -> impl Iterator<Item = &Gauge> {
        let common = COMMON_GAUGES.iter().filter(|gauge| !self.has_gauge(&gauge.id));
        self.gauges.iter().chain(common)
    }

    /// Whether the owner described the gauge of that name.
    pub fn has_gauge(&self, id: &str) -> bool {
        self.gauges.iter().any(|gauge| gauge.id == id)
    }

    /// The file's own text, when there is a file.
    pub fn text(&self) -> Option<&SourceText> {
        self.text.as_ref()
    }
}
