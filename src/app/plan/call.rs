//! What is asked for, as it was typed, and what is said of its numbers.

use std::path::PathBuf;

use crate::app::Failure;
use crate::physics::{FormulaResult, OutOfRange};
use crate::quantity::{Measure, PSI, Uncertain, Units, show_briefly};

/// What is asked for, as it was typed.
#[derive(Clone, Debug, Default)]
pub struct PlanCall {
    /// The system file, when another than the owner's is meant.
    pub system: Option<PathBuf>,
    /// Where the pump is to start.
    pub cut_in: Option<String>,
    /// Where the pump is to stop.
    pub cut_out: Option<String>,
    /// Tanks to add: `20 gal`, `20 gal @ 6 ft`.
    pub add_tank: Vec<String>,
    /// Ids of tanks to take away.
    pub remove: Vec<String>,
    /// A steady draw to be told of.
    pub demand: Option<String>,
    /// Where water is wanted: `shower +14 ft, 3/4 in, 50 ft, 3 gal/min >= 40 psi`.
    pub serve: Vec<String>,
    /// What is to be reached: `run time 60 s`.
    pub goals: Vec<String>,
    /// What the pump brings.
    pub flow: Option<String>,
    /// Timed fills: `40 psi to 45 psi in 21 s`.
    pub fill: Vec<String>,
    /// The pump's shutoff head.
    pub shutoff: Option<String>,
    /// How far below the switch the water stands while the pump runs.
    pub water_level: Option<String>,
    /// How far below cut-in the precharge is to lie.
    pub gap: Option<String>,
    /// The temperature at the tanks.
    pub temperature: Option<String>,
    /// The least run time that will do.
    pub run_time: Option<String>,
    /// Tell what an outage leaves.
    pub outage: bool,
    /// The table of sizes, when another than the owner's is meant.
    pub sizes: Option<PathBuf>,
    /// The units to show.
    pub units: Option<Units>,
}

/// The gap below cut-in where nobody asks for another (2 psi: Water Systems Council, *Pressure Tanks*,
/// 2007), a round one in either unit; Pa.
pub(super) const fn usual_gap(units: Units) -> f64 {
    match units {
        Units::Us => 2.0 * PSI,
        Units::Metric => 0.15e5,
    }
}

/// A value with its unit, exact, for a sentence.
pub(super) fn shown(measure: Measure, si: f64, units: Units) -> String {
    show_briefly(measure, &Uncertain::exact(si), units)
}

/// What a formula says, as the end of a command.
pub(super) fn computed<T>(result: FormulaResult<T>, units: Units) -> Result<T, Failure> {
    let say = |why: OutOfRange| {
        format!("It cannot be planned: {}. Look at the numbers again, and at their units.", why.say(units))
    };
    result.map_err(|why| Failure::Call(say(why)))
}
