//! What is asked for, as it was typed, and what is said of its numbers.

use std::path::PathBuf;

use crate::app::arguments::{FORMATS, UNITS, one_of};
use crate::app::{Failure, OutputForm, Result};
use crate::physics::{FormulaResult, OutOfRange};
use crate::quantity::{Measure, PSI, Uncertain, Units, show_briefly};

/// What is asked for, as it was typed.
#[derive(Clone, Debug, Default, clap::Args)]
pub struct PlanCall {
    /// The system file, when another than your own is meant.
    #[arg(long, value_name = "FILE")]
    pub system: Option<PathBuf>,
    /// Where the pump is to start [default: as now].
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub cut_in: Option<String>,
    /// Where the pump is to stop [default: the differential of now].
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub cut_out: Option<String>,
    /// Add a tank; behind @ its height over the switch. May be repeated.
    #[arg(long, value_name = "VOLUME[@HEIGHT]", allow_hyphen_values = true)]
    pub add_tank: Vec<String>,
    /// Take away a tank of the system file, by its id. May be repeated.
    #[arg(long, value_name = "ID")]
    pub remove: Vec<String>,
    /// Starts an hour at this steady draw.
    #[arg(long, value_name = "FLOW", allow_hyphen_values = true)]
    pub demand: Option<String>,
    /// Pressures at a place so high over the switch: 'shower +14 ft >= 40 psi'; with its pipe, as sold
    /// or by its inner diameter, 'shower +14 ft, 3/4 in, 50 ft, 3 gal/min >= 40 psi'. May be repeated.
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true)]
    pub serve: Vec<String>,
    /// Search tanks and pressures for this: 'lowest 40 psi at bath', 'run time 60 s', 'drawdown 15 gal',
    /// 'reserve 5 gal', 'starts 8'. May be repeated.
    #[arg(long = "want", value_name = "GOAL", allow_hyphen_values = true)]
    pub goals: Vec<String>,
    /// The least run time [default: 60 s, above 3/4 hp 120 s].
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub run_time: Option<String>,
    /// What the pump brings [default: drawdown over run time of the newest record].
    #[arg(long, value_name = "FLOW", allow_hyphen_values = true)]
    pub flow: Option<String>,
    /// A fill timed with all faucets shut, '40 to 45 psi in 21 s'; two tell how far the pump reaches.
    #[arg(long, value_name = "FILL", allow_hyphen_values = true)]
    pub fill: Vec<String>,
    /// The pump's shutoff head, where its curve meets no flow; with --water-level.
    #[arg(long, value_name = "HEIGHT", allow_hyphen_values = true)]
    pub shutoff: Option<String>,
    /// How far below the switch the water stands while the pump runs.
    #[arg(long, value_name = "DEPTH", allow_hyphen_values = true)]
    pub water_level: Option<String>,
    /// How far below cut-in the precharge is to lie [default: 2 psi].
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub gap: Option<String>,
    /// The temperature at the tanks when they are set [default: that of the newest record].
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub temperature: Option<String>,
    /// Tell what a power outage leaves.
    #[arg(long)]
    pub outage: bool,
    /// The table of tank sizes [default: tank-sizes.toml beside the system file, else a common one].
    #[arg(long, value_name = "FILE")]
    pub sizes: Option<PathBuf>,
    /// Write the common table of tank sizes, to be copied and edited.
    #[arg(long)]
    pub list_sizes: bool,
    /// The HTML file to write in place of text; `-` for the output.
    #[arg(long, value_name = "FILE")]
    pub html: Option<PathBuf>,
    /// A page for people, or one line of JSON for programs.
    #[arg(long, value_parser = one_of(FORMATS), default_value = "text", conflicts_with = "html")]
    pub format: OutputForm,
    /// Units to show and to take bare numbers in.
    #[arg(long, value_parser = one_of(UNITS))]
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
pub(super) fn computed<T>(result: FormulaResult<T>, units: Units) -> Result<T> {
    let say = |why: OutOfRange| {
        format!("It cannot be planned: {}. Look at the numbers again, and at their units.", why.say(units))
    };
    result.map_err(|why| Failure::Call(say(why)))
}
