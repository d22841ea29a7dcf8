//! What the cut-out must not pass: the plate, the relief valve, the pump.

use super::FormulaResult;
use super::limits::GAUGE_PRESSURE;
use crate::quantity::Scalar;

/// What limits the pressure on a line.
#[derive(Clone, Debug, PartialEq)]
pub struct PressureLimits<S> {
    /// The highest pressure on the tank's plate; Pa.
    pub plate: S,
    /// Where the relief valve opens; Pa.
    pub relief: S,
    /// The highest pressure the pump can build with all taps shut; Pa.
    pub pump: S,
}

formula!(CUT_OUT_LIMIT:
    "The highest cut-out that plate, relief valve and pump allow.",
    "the lowest of the three",
    range "to 150 psi",
    source "relief valve at most at the rating of the tank: WAC 296-104-316"
);

#[doc = CUT_OUT_LIMIT!()]
///
/// Keep well below it: a relief valve weeps before it opens, and a pump near its highest pressure
/// hardly moves water. That a switch set above what the pump can build never stops is common
/// practice.
///
/// Units: Pa.
///
/// ```
/// use tankhand::physics::{PressureLimits, cut_out_limit};
/// let psi = 6894.757;
/// let limits = PressureLimits { plate: 100.0 * psi, relief: 75.0 * psi, pump: 85.0 * psi };
/// assert_eq!(cut_out_limit(&limits).unwrap(), 75.0 * psi);
/// ```
pub fn cut_out_limit<S: Scalar>(limits: &PressureLimits<S>) -> FormulaResult<S> {
    GAUGE_PRESSURE.check("the plate's limit", &limits.plate)?;
    GAUGE_PRESSURE.check("the relief valve's pressure", &limits.relief)?;
    GAUGE_PRESSURE.check("the pump's highest pressure", &limits.pump)?;
    Ok(limits.plate.clone().min(limits.relief.clone()).min(limits.pump.clone()))
}
