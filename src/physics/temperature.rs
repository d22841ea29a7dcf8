//! Temperature: what it does to the precharge of a tank whose air keeps its amount.

use super::atmosphere::{absolute_of, atmosphere};
use super::limits::TEMPERATURE;
use super::{FormulaResult, OutOfRange, gauge};
use crate::quantity::{Measure, Scalar};

formula!(PRECHARGE_AT:
    "What a precharge read at one temperature reads at another.",
    "precharge × to / from, absolute pressures and temperatures",
    range "-40 °C to 60 °C, above vacuum to 150 psi",
    source "law of Gay-Lussac"
);

#[doc = PRECHARGE_AT!()]
///
/// The air's amount and volume are unchanged. It also serves a hold test: the pressure a sound tank
/// would show once its air has gone from one temperature to the other. Within 0.1 psi of real air
/// (CoolProp 8.0.0).
///
/// Units: Pa, K, m to Pa.
///
/// ```
/// use tankhand::physics::precharge_at;
/// let psi = 6894.757;
/// let cold = precharge_at(38.0 * psi, 293.15, 278.15, 0.0).unwrap();
/// assert!((cold / psi - 35.304).abs() < 0.002);
/// ```
pub fn precharge_at<S: Scalar>(precharge: S, from: S, to: S, elevation: S) -> FormulaResult<S> {
    TEMPERATURE.check("the temperature it was read at", &from)?;
    TEMPERATURE.check("the temperature asked about", &to)?;
    let air = atmosphere(elevation.clone())?;
    let absolute = absolute_of("the precharge", precharge, &air)?;
    gauge(absolute * to / from, elevation)
}

formula!(AIR_TEMPERATURE_AFTER:
    "How warm the air in a tank is right after a fast change of pressure.",
    "T (after / before)^((n - 1) / n), absolute; n = 1.4 where none is given",
    range "exponent 1 to 1.4, -40 °C to 60 °C before",
    source "polytropic change of an ideal gas (textbook)"
);

#[doc = AIR_TEMPERATURE_AFTER!()]
///
/// `n` is 1 for a change so slow that the air keeps its temperature, 1.4 for one so fast that it
/// keeps its heat; cp/cv of air is 1.40 to 1.42 here (CoolProp 8.0.0).
///
/// Units: K, Pa, m to K.
///
/// ```
/// use tankhand::physics::air_temperature_after;
/// let psi = 6894.757;
/// let hot = air_temperature_after(288.15, 40.0 * psi, 60.0 * psi, 0.0, 1.4).unwrap();
/// assert!((hot - 273.15 - 41.8).abs() < 0.1);
/// ```
pub fn air_temperature_after<S: Scalar>(
    temperature: S,
    before: S,
    after: S,
    elevation: S,
    exponent: f64,
) -> FormulaResult<S> {
    TEMPERATURE.check("the temperature before", &temperature)?;
    check_exponent(exponent)?;
    let air = atmosphere(elevation)?;
    let before = absolute_of("the pressure before", before, &air)?;
    let after = absolute_of("the pressure after", after, &air)?;
    Ok(temperature * (after / before).powf((exponent - 1.0) / exponent))
}

const EXPONENT_SOURCE: &str =
    "from constant temperature to no heat passing, where cp/cv of air is 1.4, textbook";

/// The exponent of a polytropic change must lie between 1 and 1.4.
pub(crate) fn check_exponent(exponent: f64) -> FormulaResult<()> {
    if (1.0..=1.4).contains(&exponent) {
        return Ok(());
    }
    Err(OutOfRange::new(
        "the polytropic exponent is {}, outside 1 (slow) to 1.4 (fast)",
        &[super::MessagePart::Value(Measure::Number, exponent)],
        EXPONENT_SOURCE,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn there_and_back(
            precharge in 0.0f64..600e3, a in 250.0f64..320.0, b in 250.0f64..320.0, z in -500.0f64..5_000.0
        ) {
            let there = precharge_at(precharge, a, b, z).unwrap();
            let back = precharge_at(there, b, a, z).unwrap();
            prop_assert!((back - precharge).abs() < 1e-6);
            prop_assert_eq!(there > precharge, b > a);
        }

        #[test]
        fn squeezed_fast_means_hot(p in 50e3f64..600e3, more in 1e3f64..300e3, n in 1.01f64..1.4) {
            let hot = air_temperature_after(283.15, p, p + more, 0.0, n).unwrap();
            prop_assert!(hot > 283.15);
            let cold = air_temperature_after(283.15, p + more, p, 0.0, n).unwrap();
            prop_assert!((hot * cold - 283.15 * 283.15).abs() < 1e-6);
        }
    }

    #[test]
    fn a_temperature_outside_the_range_is_told() {
        let fault = precharge_at(200e3, 293.15, 500.0, 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "the temperature asked about, 440.33 °F, is not between -40 °F and 140 °F \
             (air is an ideal gas within 0.5 % here up to 8 bar, by CoolProp 8.0.0; tanks are made for at most 49 °C)"
        );
        let fault = air_temperature_after(288.15, 200e3, 300e3, 0.0, 2.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "the polytropic exponent is 2, outside 1 (slow) to 1.4 (fast) \
             (from constant temperature to no heat passing, where cp/cv of air is 1.4, textbook)"
        );
    }
}
