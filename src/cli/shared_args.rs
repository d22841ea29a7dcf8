//! Words that several commands take.

use clap::ValueEnum;

use crate::app::FaultForm;
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

/// How faults are told.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum FormatArg {
    Text,
    Json,
}

impl FormatArg {
    /// The same for a terminal of a width.
    pub fn form(self, width: usize) -> FaultForm {
        match self {
            FormatArg::Text => FaultForm::Text(width),
            FormatArg::Json => FaultForm::Json,
        }
    }
}
