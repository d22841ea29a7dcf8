//! Air to add to a drained tank: free air, strokes of a hand pump, minutes of a compressor.

use super::atmosphere::{absolute_of, atmosphere};
use super::limits::{FLOW, STROKE, VOLUME};
use super::out_of_range::pressure;
use super::{FormulaResult, OutOfRange};
use crate::quantity::Scalar;

formula!(FREE_AIR:
    "The air, at the pressure of the room, to bring an empty tank from one precharge to another.",
    "V (to - from) / atmosphere(elevation)",
    range "the second precharge not below the first, above vacuum to 150 psi",
    source "Boyle's law"
);

#[doc = FREE_AIR!()]
///
/// The tank is drained, and the air given time to cool.
///
/// Units: m³, Pa, m to m³ of free air.
///
/// ```
/// use tankhand::physics::free_air;
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let air = free_air(44.0 * gal, 0.0, 38.0 * psi, 0.0).unwrap();
/// assert!((air * 1e3 - 430.68).abs() < 0.05);
/// ```
pub fn free_air<S: Scalar>(volume: S, from: S, to: S, elevation: S) -> FormulaResult<S> {
    VOLUME.check("the tank's volume", &volume)?;
    let air = atmosphere(elevation)?;
    absolute_of("the precharge found", from.clone(), &air)?;
    absolute_of("the precharge wanted", to.clone(), &air)?;
    if to.value() < from.value() {
        return Err(OutOfRange::new(
            "the precharge wanted, {}, is below the precharge found, {}: let air out instead",
            &[pressure(&to), pressure(&from)],
            "adding air raises the pressure",
        ));
    }
    Ok(volume * (to - from) / air)
}

formula!(STROKES:
    "The strokes of a hand pump for that air.",
    "free_air / stroke",
    range "as free_air, a stroke of 10 mL to 10 L",
    source "Boyle's law"
);

#[doc = STROKES!()]
///
/// A real pump delivers less, and the less the higher the pressure, for air left in its end
/// re-expands: count on a fifth more (a judgement).
///
/// Units: m³, Pa, m³, m to a number.
///
/// ```
/// use tankhand::physics::strokes;
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let n = strokes(20.0 * gal, 28.0 * psi, 38.0 * psi, 0.5e-3, 0.0).unwrap();
/// assert_eq!(n.ceil(), 104.0);
/// ```
pub fn strokes<S: Scalar>(volume: S, from: S, to: S, stroke: S, elevation: S) -> FormulaResult<S> {
    STROKE.check("the stroke", &stroke)?;
    Ok(free_air(volume, from, to, elevation)? / stroke)
}

formula!(COMPRESSOR_TIME:
    "How long a compressor runs to bring an empty tank from one precharge to another.",
    "free_air(volume, from, to, elevation) / flow",
    range "pressures above vacuum to 150 psi, the second not below the first, flow above zero to 0.1 m³/s",
    source "Boyle's law"
);

#[doc = COMPRESSOR_TIME!()]
///
/// The flow is free air taken in here. A plate in "standard" air may mean any of several standards
/// that differ by up to 9 %.
///
/// Units: m³, Pa, m³/s, m to s.
///
/// ```
/// use tankhand::physics::compressor_time;
/// let (psi, gal, scfm) = (6894.757, 3.785412e-3, 0.028316847 / 60.0);
/// let seconds = compressor_time(44.0 * gal, 0.0, 38.0 * psi, 2.0 * scfm, 0.0).unwrap();
/// assert!((seconds / 60.0 - 7.60).abs() < 0.01);
/// ```
pub fn compressor_time<S: Scalar>(volume: S, from: S, to: S, flow: S, elevation: S) -> FormulaResult<S> {
    FLOW.check("the compressor's delivery", &flow)?;
    Ok(free_air(volume, from, to, elevation)? / flow)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn air_in_two_goes_is_air_in_one(
            a in 0.0f64..200e3, b in 0.0f64..200e3, c in 0.0f64..200e3, z in -500.0f64..5_000.0
        ) {
            let air = |from, to| free_air(0.2, from, to, z).unwrap();
            let sum = air(a, a + b) + air(a + b, a + b + c);
            prop_assert!((sum - air(a, a + b + c)).abs() < 1e-9);
        }

        #[test]
        fn thin_air_takes_more_of_it(z in 0.0f64..5_000.0) {
            let at = |z| strokes(0.2, 0.0, 200e3, 5e-4, z).unwrap();
            prop_assert!(at(z) < at(z + 10.0));
        }
    }

    #[test]
    fn air_to_let_out_is_told() {
        let psi = crate::quantity::PSI;
        let fault = free_air(0.2, 38.0 * psi, 28.0 * psi, 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "the precharge wanted, 28 psi, is below the precharge found, 38 psi: let air out instead \
             (adding air raises the pressure)"
        );
        assert_eq!(free_air(0.2, 38.0 * psi, 38.0 * psi, 0.0), Ok(0.0));
    }
}
