//! Gauges: what is known of how well they read.

use crate::quantity::Family;

/// What readings are taken with.
#[derive(Clone, Debug, PartialEq)]
pub struct Gauge {
    /// The name procedures call it by.
    pub id: std::borrow::Cow<'static, str>,
    /// What it is, for a person.
    pub name: std::borrow::Cow<'static, str>,
    /// What it measures.
    pub family: Family,
    /// Its limit of error either way, SI; shared by all readings of this gauge.
    pub within: f64,
    /// Its limit of error as a fraction of the reading, for bucket marks and the like.
    pub within_share: f64,
    /// Its smallest division, SI; half of it either way is each reading's own doubt.
    pub division: f64,
}

impl Gauge {
    /// Standard uncertainty of its accuracy at a reading: limits taken as rectangular
    /// (JCGM 100:2008, 4.3.7).
    pub fn accuracy_u(&self, reading_si: f64) -> f64 {
        (self.within + self.within_share * reading_si.abs()) / 3f64.sqrt()
    }

    /// Standard uncertainty from its division d: d/√12 (JCGM 100:2008, F.2.2.1).
    pub fn resolution_u(&self) -> f64 {
        self.division / 12f64.sqrt()
    }
}

/// Pascals in a psi, to keep the table below in the units its figures are known in.
const PSI: f64 = 6_894.757_293_168_361;

const fn common(
    id: &'static str,
    name: &'static str,
    family: Family,
    (within, within_share, division): (f64, f64, f64),
) -> Gauge {
    Gauge {
        id: std::borrow::Cow::Borrowed(id),
        name: std::borrow::Cow::Borrowed(name),
        family,
        within,
        within_share,
        division,
    }
}

/// Gauges as they are commonly found, for owners who know nothing of theirs. The figures are
/// common practice, not a standard's: an ordinary dial on the line, a dial tyre gauge, a bucket
/// with marks, a household thermometer, a watch worked by hand.
pub static COMMON_GAUGES: &[Gauge] = &[
    common("line", "line gauge, an ordinary dial", Family::Pressure, (2.0 * PSI, 0.0, PSI)),
    common("air", "tire gauge, a dial", Family::Pressure, (1.0 * PSI, 0.0, 0.5 * PSI)),
    common("bucket", "bucket with marks", Family::Volume, (0.0, 0.03, 0.5e-3)),
    common("thermometer", "household thermometer", Family::Temperature, (1.0, 0.0, 1.0)),
    common("watch", "watch, worked by hand", Family::Time, (0.5, 0.0, 1.0)),
    common("scale", "bathroom scale", Family::Mass, (0.5, 0.0, 0.5)),
    common("cone", "settling cone or marked jar", Family::Concentration, (0.0, 0.05, 1e-4)),
];
