//! What a pressure must not pass: the plate, the relief valve, the pump, the cut-in.

use super::limits::GAUGE_PRESSURE;
use super::out_of_range::pressure;
use super::{FormulaResult, MessagePart, OutOfRange};
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

formula!(CUT_OUT_CEILING:
    "The highest cut-out that plate, relief valve and pump allow.",
    "the lowest of the three",
    range "to 150 psi",
    source "relief valve at most at the rating of the tank: WAC 296-104-316"
);

#[doc = CUT_OUT_CEILING!()]
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

formula!(ALLOWED_CUT_OUT:
    "A cut-out, handed on when plate, relief valve and pump allow it.",
    "cut_out, when at most plate and below relief and pump",
    range "at most the plate, below relief valve and pump",
    source "the plate of the tank, the relief valve, the pump's curve"
);

#[doc = ALLOWED_CUT_OUT!()]
///
/// Units: Pa.
///
/// ```
/// use tankhand::physics::{PressureLimits, allowed_cut_out};
/// let limits = PressureLimits { plate: 690e3, relief: 520e3, pump: 600e3 };
/// assert_eq!(allowed_cut_out(414e3, &limits).unwrap(), 414e3);
/// assert!(allowed_cut_out(550e3, &limits).is_err());
/// ```
pub fn allowed_cut_out<S: Scalar>(cut_out: S, limits: &PressureLimits<S>) -> FormulaResult<S> {
    cut_out_limit(limits)?;
    GAUGE_PRESSURE.check("the cut-out", &cut_out)?;
    under_plate("the cut-out", &cut_out, &limits.plate)?;
    under_relief("the cut-out", &cut_out, &limits.relief)?;
    if cut_out.value() < limits.pump.value() {
        return Ok(cut_out);
    }
    Err(OutOfRange::new(
        "the cut-out, {}, is not below the pump's highest pressure, {}: the pump would never stop",
        &[pressure(&cut_out), pressure(&limits.pump)],
        "the pump's curve at no flow",
    ))
}

formula!(ALLOWED_CHARGE:
    "A charge, handed on when it may be set: below cut-in and relief valve, not above the plate.",
    "charge, when 0 <= charge < cut_in, charge <= plate and charge < relief",
    range "as the formula says",
    source "Water Systems Council, Pressure Tanks (2007); the plate of the tank; the relief valve"
);

#[doc = ALLOWED_CHARGE!()]
///
/// Units: Pa.
///
/// ```
/// use tankhand::physics::allowed_precharge;
/// assert_eq!(allowed_precharge(262e3, 276e3, 690e3, 520e3).unwrap(), 262e3);
/// assert!(allowed_precharge(276e3, 276e3, 690e3, 520e3).is_err());
/// ```
pub fn allowed_precharge<S: Scalar>(precharge: S, cut_in: S, plate: S, relief: S) -> FormulaResult<S> {
    for (name, value) in [
        ("the charge", &precharge),
        ("the cut-in", &cut_in),
        ("the plate's limit", &plate),
        ("the relief valve's pressure", &relief),
    ] {
        GAUGE_PRESSURE.check(name, value)?;
    }
    under_plate("the charge", &precharge, &plate)?;
    under_relief("the charge", &precharge, &relief)?;
    if precharge.value() < 0.0 {
        return Err(OutOfRange::new(
            "the charge, {}, is below the air outside",
            &[pressure(&precharge)],
            "a tank open to the air reads zero",
        ));
    }
    if precharge.value() < cut_in.value() {
        return Ok(precharge);
    }
    Err(OutOfRange::new(
        "the charge, {}, is not below the cut-in, {}: the tank would be empty before the pump starts",
        &[pressure(&precharge), pressure(&cut_in)],
        "Water Systems Council, sheet Pressure Tanks, 2007",
    ))
}

fn under_plate<S: Scalar>(name: &'static str, value: &S, plate: &S) -> FormulaResult<()> {
    if value.value() <= plate.value() {
        return Ok(());
    }
    Err(OutOfRange::new(
        "{}, {}, is above the plate's limit, {}",
        &[MessagePart::Words(name), pressure(value), pressure(plate)],
        "the plate of the tank",
    ))
}

fn under_relief<S: Scalar>(name: &'static str, value: &S, relief: &S) -> FormulaResult<()> {
    if value.value() < relief.value() {
        return Ok(());
    }
    Err(OutOfRange::new(
        "{}, {}, is not below the relief valve's pressure, {}",
        &[MessagePart::Words(name), pressure(value), pressure(relief)],
        "the marking of the relief valve",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::PSI;

    #[test]
    fn each_limit_is_named_where_it_is_passed() {
        let limits = PressureLimits { plate: 100.0 * PSI, relief: 75.0 * PSI, pump: 65.0 * PSI };
        let say = |cut_out: f64| allowed_cut_out(cut_out * PSI, &limits).unwrap_err().to_string();
        assert_eq!(
            say(101.0),
            "the cut-out, 101 psi, is above the plate's limit, 100 psi (the plate of the tank)"
        );
        assert_eq!(
            say(75.0),
            "the cut-out, 75 psi, is not below the relief valve's pressure, 75 psi \
             (the marking of the relief valve)"
        );
        assert_eq!(
            say(70.0),
            "the cut-out, 70 psi, is not below the pump's highest pressure, 65 psi: \
             the pump would never stop (the pump's curve at no flow)"
        );
        let say = |precharge: f64| {
            allowed_precharge(precharge * PSI, 40.0 * PSI, 50.0 * PSI, 45.0 * PSI).unwrap_err().to_string()
        };
        assert_eq!(
            say(51.0),
            "the charge, 51 psi, is above the plate's limit, 50 psi (the plate of the tank)"
        );
        assert_eq!(
            say(46.0),
            "the charge, 46 psi, is not below the relief valve's pressure, 45 psi \
             (the marking of the relief valve)"
        );
        assert_eq!(
            say(40.0),
            "the charge, 40 psi, is not below the cut-in, 40 psi: the tank would be empty before \
             the pump starts (Water Systems Council, sheet Pressure Tanks, 2007)"
        );
        assert_eq!(
            say(-1.0),
            "the charge, -1 psi, is below the air outside (a tank open to the air reads zero)"
        );
    }
}
