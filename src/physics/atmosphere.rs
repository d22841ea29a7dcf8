//! The local air: its pressure from the elevation, and gauge to absolute and back.

use super::constants::{
    AIR_MOLAR_MASS, ATMOSPHERE_GAS_CONSTANT, EARTH_RADIUS, GRAVITY, LAPSE_RATE, SEA_LEVEL_PRESSURE,
    SEA_LEVEL_TEMPERATURE,
};
use super::limits::{ELEVATION, GAUGE_PRESSURE};
use super::out_of_range::pressure;
use super::{FormulaResult, MessagePart, OutOfRange};
use crate::quantity::Scalar;

formula!(ATMOSPHERE:
    "The pressure of the air at an elevation.",
    "101325 Pa × (1 - 0.0065 H / 288.15)^5.25588, H = r Z / (r + Z), Z the elevation in metres",
    range "-500 m to 11,000 m",
    source "U.S. Standard Atmosphere, 1976"
);

#[doc = ATMOSPHERE!()]
///
/// `H` is the geopotential height. Weather moves the true pressure by some 3 %.
///
/// Units: m to Pa absolute.
///
/// ```
/// use tankhand::physics::atmosphere;
/// let denver_high = atmosphere(1609.344).unwrap(); // 5,280 ft
/// assert!((denver_high - 83_436.5).abs() < 5.0);
/// ```
pub fn atmosphere<S: Scalar>(elevation: S) -> FormulaResult<S> {
    ELEVATION.check("the elevation", &elevation)?;
    let radius = S::from(EARTH_RADIUS.value);
    let height = radius.clone() * elevation.clone() / (radius + elevation);
    let cooled = S::from(1.0) - height * S::from(LAPSE_RATE.value / SEA_LEVEL_TEMPERATURE.value);
    let exponent = GRAVITY.value * AIR_MOLAR_MASS.value / (ATMOSPHERE_GAS_CONSTANT.value * LAPSE_RATE.value);
    Ok(S::from(SEA_LEVEL_PRESSURE.value) * cooled.powf(exponent))
}

formula!(ABSOLUTE:
    "A gauge pressure counted from vacuum.",
    "gauge + atmosphere(elevation)",
    range "above vacuum, at most 150 psi on the gauge",
    source "definition of gauge pressure; U.S. Standard Atmosphere, 1976"
);

#[doc = ABSOLUTE!()]
///
/// Units: Pa and m to Pa absolute.
///
/// ```
/// use tankhand::physics::absolute;
/// assert_eq!(absolute(200_000.0, 0.0).unwrap(), 301_325.0);
/// assert!(absolute(-110_000.0, 0.0).is_err());
/// ```
pub fn absolute<S: Scalar>(gauge: S, elevation: S) -> FormulaResult<S> {
    absolute_of("the gauge pressure", gauge, &atmosphere(elevation)?)
}

/// Gauge pressure from an absolute one: `absolute − atmosphere(elevation)`.
///
/// Units: Pa absolute and m to Pa. Range: above vacuum, at most 150 psi on the gauge.
/// Source: definition of gauge pressure.
///
/// ```
/// use tankhand::physics::gauge;
/// assert_eq!(gauge(301_325.0, 0.0).unwrap(), 200_000.0);
/// ```
pub fn gauge<S: Scalar>(absolute: S, elevation: S) -> FormulaResult<S> {
    let air = atmosphere(elevation)?;
    let gauge = absolute - air.clone();
    absolute_of("the gauge pressure", gauge.clone(), &air)?;
    Ok(gauge)
}

/// The absolute pressure of what `name` says, with the local air at `air`.
pub(crate) fn absolute_of<S: Scalar>(name: &'static str, gauge: S, air: &S) -> FormulaResult<S> {
    let absolute = gauge.clone() + air.clone();
    if absolute.value() > 0.0 || !gauge.value().is_finite() {
        GAUGE_PRESSURE.check(name, &gauge)?;
        return Ok(absolute);
    }
    Err(OutOfRange::new(
        "{}, {}, is below vacuum, which is {} here",
        &[MessagePart::Words(name), pressure(&gauge), pressure(&-air.clone())],
        "nothing can have less pressure than vacuum",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn higher_is_thinner(z in -500.0f64..10_990.0, more in 1.0f64..10.0) {
            prop_assert!(atmosphere(z + more).unwrap() < atmosphere(z).unwrap());
        }

        #[test]
        fn there_and_back(p in -20_000.0f64..1_000_000.0, z in -500.0f64..11_000.0) {
            let back = gauge(absolute(p, z).unwrap(), z).unwrap();
            prop_assert!((back - p).abs() < 1e-6);
        }
    }

    #[test]
    fn less_than_vacuum_is_told() {
        let fault = absolute(-104_000.0, 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "the gauge pressure, -15.084 psi, is below vacuum, which is -14.696 psi here \
             (nothing can have less pressure than vacuum)"
        );
    }
}
