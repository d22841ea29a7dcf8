//! Standing water: pressure and height.

use super::constants::{GRAVITY, WATER_DENSITY};
use super::limits::{BORE, GAUGE_PRESSURE, HEIGHT, PIPE};
use super::out_of_range::{pressure as pressure_slot, value};
use super::{FormulaResult, OutOfRange};
use crate::quantity::{Measure, Scalar};

formula!(HEAD:
    "The pressure of a column of water.",
    "999.7025 kg/m³ × 9.80665 m/s² × height",
    range "-500 m to 500 m",
    source "hydrostatics; density: IAPWS-95"
);

#[doc = HEAD!()]
///
/// Water at 10 °C, as from a well: 0.4334 psi/ft, 2.307 ft/psi; at 20 °C 0.15 % less.
///
/// Units: m to Pa (a change).
///
/// ```
/// use tankhand::physics::head;
/// let psi = 6894.757;
/// assert!((head(0.3048).unwrap() / psi - 0.4334).abs() < 1e-4); // one foot
/// ```
pub fn head<S: Scalar>(height: S) -> FormulaResult<S> {
    HEIGHT.check("the height", &height)?;
    Ok(height * S::from(WATER_DENSITY.value * GRAVITY.value))
}

formula!(PRESSURE_AT:
    "The pressure at a place so far above the gauge.",
    "pressure - head(above)",
    range "-500 m to 500 m, to 150 psi",
    source "hydrostatics"
);

#[doc = PRESSURE_AT!()]
///
/// A place below has a negative height. A tank above its switch sees less, so its precharge follows
/// the cut-in *at the tank*. Still water only: flow takes more.
///
/// Units: Pa, m to Pa.
///
/// ```
/// use tankhand::physics::pressure_at;
/// let psi = 6894.757;
/// let up = pressure_at(40.0 * psi, 20.0 * 0.3048).unwrap();
/// assert!((up / psi - 31.33).abs() < 0.01);
/// ```
pub fn pressure_at<S: Scalar>(pressure: S, above: S) -> FormulaResult<S> {
    GAUGE_PRESSURE.check("the pressure", &pressure)?;
    let there = pressure - head(above)?;
    GAUGE_PRESSURE.check("the pressure at that height", &there)?;
    Ok(there)
}

formula!(LOWEST_PRESSURE:
    "The lowest pressure an outlet gets, just before the pump starts.",
    "cut_in - head(above) - loss",
    range "refused where nothing would flow",
    source "hydrostatics"
);

#[doc = LOWEST_PRESSURE!()]
///
/// `loss` is what the pipe takes at the flow in question (zero for still water). Where the precharge
/// lies above the cut-in it is lower still.
///
/// Units: Pa, m, Pa to Pa.
///
/// ```
/// use tankhand::physics::lowest_pressure;
/// let psi = 6894.757;
/// let shower = lowest_pressure(30.0 * psi, 5.0, 4.0 * psi).unwrap();
/// assert!((shower / psi - 18.89).abs() < 0.01);
/// ```
pub fn lowest_pressure<S: Scalar>(cut_in: S, above: S, loss: S) -> FormulaResult<S> {
    GAUGE_PRESSURE.check("the pressure loss", &loss)?;
    let there = pressure_at(cut_in.clone(), above.clone())? - loss;
    if there.value() > 0.0 {
        return Ok(there);
    }
    Err(OutOfRange::new(
        "a cut-in of {} brings no water to a place {} above the switch",
        &[pressure_slot(&cut_in), value(Measure::Length, &above)],
        "hydrostatics",
    ))
}

formula!(WATER_IN_PIPE:
    "The water in a length of pipe or casing.",
    "π/4 diameter² length",
    range "1 mm to 10 m across, to 1 km",
    source "geometry"
);

#[doc = WATER_IN_PIPE!()]
///
/// By its inner diameter. It is part of what a disinfectant is mixed with.
///
/// Units: m, m to m³.
///
/// ```
/// use tankhand::physics::water_in_pipe;
/// let (inch, foot, gal) = (0.0254, 0.3048, 3.785412e-3);
/// assert!((water_in_pipe(6.0 * inch, foot).unwrap() / gal - 1.469).abs() < 0.001);
/// ```
pub fn water_in_pipe<S: Scalar>(diameter: S, length: S) -> FormulaResult<S> {
    BORE.check("the diameter of the pipe", &diameter)?;
    PIPE.check("the length of the pipe", &length)?;
    Ok(S::from(std::f64::consts::FRAC_PI_4) * diameter.clone() * diameter * length)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn up_and_down_again(p in 0.0f64..400e3, h in -10.0f64..10.0) {
            let back = pressure_at(pressure_at(p, h).unwrap(), -h).unwrap();
            prop_assert!((back - p).abs() < 1e-6);
            prop_assert_eq!(head(-h).unwrap(), -head(h).unwrap());
        }
    }

    #[test]
    fn a_place_too_high_is_told() {
        let fault = lowest_pressure(20.0 * crate::quantity::PSI, 15.24, 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "a cut-in of 20 psi brings no water to a place 50 ft above the switch \
             (hydrostatics)"
        );
    }
}
