//! The units, as an argument.

use clap::ValueEnum;

use crate::quantity::Units;

/// Units to show and to take bare numbers in.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum UnitsArg {
    /// psi, gallons, °F, feet
    Us,
    /// bar, litres, °C, metres
    Metric,
}

impl From<UnitsArg> for Units {
    fn from(units: UnitsArg) -> Units {
        match units {
            UnitsArg::Us => Units::Us,
            UnitsArg::Metric => Units::Metric,
        }
    }
}
