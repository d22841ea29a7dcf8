//! What a trend is asked for.

use crate::quantity::{Measure, Uncertain, Units, show_briefly};

/// What a trend is asked for.
#[derive(Clone, Copy, Debug)]
pub struct TrendOrder<'a> {
    /// What the tank is called, when records name one.
    pub tank: Option<&'a str>,
    /// The installation, when it has a name.
    pub site: Option<&'a str>,
    /// How far the precharge may stray from what was wanted; Pa.
    pub band: f64,
    /// The units to show.
    pub units: Units,
    /// How many records of the tank were not ended, and so not counted.
    pub open: usize,
    /// Where else tanks of that id stand, whose records are not counted.
    pub elsewhere: &'a [String],
}

impl TrendOrder<'_> {
    /// A temperature as the order wants it.
    pub(super) fn temperature(&self, kelvin: f64) -> String {
        show_briefly(Measure::Temperature, &Uncertain::exact(kelvin), self.units)
    }
}
