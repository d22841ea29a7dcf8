//! The hold test: from pressure and temperature at the start and the end to a leak.
//!
//! A cold morning is not a leak: what counts is the pressure a sound tank would show at the
//! temperature of the end. The air side is tested with the water side drained and open, so that
//! the bladder lies against its stop and the volume is fixed (ASTM E2930-13(2021) excludes
//! vessels that give).

use super::atmosphere::{absolute_of, atmosphere};
use super::constants::{DETECTION_FACTOR, GAS_CONSTANT};
use super::limits::{DURATION, LOSS, TEMPERATURE, VOLUME};
use super::{FormulaResult, limits, precharge_at};
use crate::quantity::Scalar;

/// A pressure and the temperature of the air at the same moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Held<S> {
    /// Gauge pressure; Pa.
    pub pressure: S,
    /// Temperature of the air; K.
    pub temperature: S,
}

formula!(CORRECTED_LOSS:
    "The pressure lost in a hold test that temperature does not explain.",
    "precharge_at(start, start_temp, end_temp, elevation) - end",
    range "-40 °C to 60 °C, pressures above vacuum to 150 psi",
    source "law of Gay-Lussac"
);

#[doc = CORRECTED_LOSS!()]
///
/// Below zero where the pressure rose.
///
/// Units: Pa, K, m to Pa (a change).
///
/// ```
/// use tankhand::physics::{Held, corrected_loss};
/// let psi = 6894.757;
/// let start = Held { pressure: 50.0 * psi, temperature: 293.15 };
/// let end = Held { pressure: 48.9 * psi, temperature: 288.15 };
/// assert!(corrected_loss(start, end, 0.0).unwrap().abs() < 0.01 * psi); // no leak, only colder
/// ```
pub fn corrected_loss<S: Scalar>(start: Held<S>, end: Held<S>, elevation: S) -> FormulaResult<S> {
    absolute_of("the pressure at the end", end.pressure.clone(), &atmosphere(elevation.clone())?)?;
    Ok(precharge_at(start.pressure, start.temperature, end.temperature, elevation)? - end.pressure)
}

/// Amount of air that leaks in a unit of time: `V/R (p1/T1 − p2/T2) / t`.
///
/// Units: m³, Pa and K, s, m to mol/s. Range: 0.1 s to a year, −40 °C to 60 °C. Source:
/// 40 CFR 1065.644, Eq. 1065.644-1; mass balance as in ASTM E2930.
///
/// ```
/// use tankhand::physics::{Held, amount_leak};
/// let at = |pressure| Held { pressure, temperature: 293.15 };
/// let leak = amount_leak(0.1, at(262e3), at(260e3), 3600.0, 0.0).unwrap();
/// assert!((leak - 2.279e-5).abs() < 1e-8);
/// ```
pub fn amount_leak<S: Scalar>(
    volume: S,
    start: Held<S>,
    end: Held<S>,
    duration: S,
    elevation: S,
) -> FormulaResult<S> {
    VOLUME.check("the tank's volume", &volume)?;
    DURATION.check("the time held", &duration)?;
    let air = atmosphere(elevation)?;
    let lost = over_temperature("the pressure at the start", start, &air)?
        - over_temperature("the pressure at the end", end, &air)?;
    Ok(volume * S::from(1.0 / GAS_CONSTANT.value) * lost / duration)
}

formula!(AIR_LEAK:
    "The air that leaks from a drained tank, as free air.",
    "V (p1 / T1 - p2 / T2) T1 / (atmosphere duration), absolute",
    range "-40 °C to 60 °C, pressures above vacuum to 150 psi, 0.1 s to a year",
    source "40 CFR 1065.644, Eq. 1065.644-1; mass balance as in ASTM E2930"
);

#[doc = AIR_LEAK!()]
///
/// Free air here at the temperature of the start.
///
/// Units: m³, Pa and K, s, m to m³/s.
///
/// ```
/// use tankhand::physics::{Held, air_leak};
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let at = |p: f64| Held { pressure: p * psi, temperature: 288.15 };
/// let leak = air_leak(20.0 * gal, at(38.0), at(37.5), 86_400.0, 0.0).unwrap();
/// assert!((leak * 60e6 - 1.789).abs() < 0.002); // mL/min
/// ```
pub fn air_leak<S: Scalar>(
    volume: S,
    start: Held<S>,
    end: Held<S>,
    duration: S,
    elevation: S,
) -> FormulaResult<S> {
    let temperature = start.temperature.clone();
    let amount = amount_leak(volume, start, end, duration, elevation.clone())?;
    Ok(amount * S::from(GAS_CONSTANT.value) * temperature / atmosphere(elevation)?)
}

formula!(WATER_LOST:
    "The water lost from a tank held under pressure.",
    "V precharge / precharge_temp (end_temp / end - start_temp / start), absolute",
    range "tanks of 0.1 L to 5,000 gal, pressures above vacuum to 150 psi, -40 °C to 60 °C",
    source "law of ideal gases"
);

#[doc = WATER_LOST!()]
///
/// The air side is tight. Water held is `V − V precharge/T_charge × T/p`, never below zero; what is
/// lost is the difference of start and end. A small fall of pressure is much water.
///
/// Units: m³, Pa and K, m to m³.
///
/// ```
/// use tankhand::physics::{Held, water_lost};
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let at = |p: f64| Held { pressure: p * psi, temperature: 288.15 };
/// let lost = water_lost(44.0 * gal, at(38.0), at(60.0), at(55.0), 0.0).unwrap();
/// assert!((lost / gal - 2.227).abs() < 0.001);
/// ```
pub fn water_lost<S: Scalar>(
    volume: S,
    precharge: Held<S>,
    start: Held<S>,
    end: Held<S>,
    elevation: S,
) -> FormulaResult<S> {
    VOLUME.check("the tank's volume", &volume)?;
    let air = atmosphere(elevation)?;
    let amount = over_temperature("the precharge", precharge, &air)?;
    let held = |name, state: Held<S>| -> FormulaResult<S> {
        let thinness = over_temperature(name, state, &air)?;
        let share = S::from(1.0) - amount.clone() / thinness;
        Ok(volume.clone() * share.max(S::from(0.0)))
    };
    Ok(held("the pressure at the start", start)? - held("the pressure at the end", end)?)
}

/// Absolute pressure over temperature: proportional to how much air a unit of volume holds.
fn over_temperature<S: Scalar>(name: &'static str, state: Held<S>, air: &S) -> FormulaResult<S> {
    TEMPERATURE.check("the temperature of the air", &state.temperature)?;
    Ok(absolute_of(name, state.pressure, air)? / state.temperature)
}

formula!(SMALLEST_LEAK:
    "The smallest air leak that a hold test could have seen, as free air.",
    "3.29 u V / (atmosphere duration)",
    range "u 0.1 Pa to 1 bar, 0.1 s to a year",
    source "L. A. Currie, Analytical Chemistry 40 (1968) 586 (from memory)"
);

#[doc = SMALLEST_LEAK!()]
///
/// `u` is the standard uncertainty of the [`corrected_loss`]: the leak is so large that one goes
/// unseen, and a sound tank is blamed, once in 20.
///
/// Units: m³, Pa, s, m to m³/s.
///
/// ```
/// use tankhand::physics::smallest_leak;
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let leak = smallest_leak(20.0 * gal, 0.3 * psi, 86_400.0, 0.0).unwrap();
/// assert!((leak * 60e6 - 3.531).abs() < 0.001); // mL/min
/// ```
pub fn smallest_leak<S: Scalar>(volume: S, u: S, duration: S, elevation: S) -> FormulaResult<S> {
    VOLUME.check("the tank's volume", &volume)?;
    LOSS.check("the uncertainty of the loss", &u)?;
    DURATION.check("the time held", &duration)?;
    Ok(S::from(DETECTION_FACTOR.value) * u * volume / atmosphere(elevation)? / duration)
}

formula!(HOLD_NEEDED:
    "How long a hold test must be to see a leak of free air.",
    "3.29 u V / (atmosphere leak)",
    range "u 0.1 Pa to 1 bar, leak 1e-11 to 0.1 m³/s",
    source "L. A. Currie, Analytical Chemistry 40 (1968) 586 (from memory)"
);

#[doc = HOLD_NEEDED!()]
///
/// The inverse of [`smallest_leak`].
///
/// Units: m³, Pa, m³/s of free air, m to s.
///
/// ```
/// use tankhand::physics::hold_needed;
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let seconds = hold_needed(20.0 * gal, 0.3 * psi, 3.531e-6 / 60.0, 0.0).unwrap();
/// assert!((seconds / 86_400.0 - 1.0).abs() < 0.001);
/// ```
pub fn hold_needed<S: Scalar>(volume: S, u: S, leak: S, elevation: S) -> FormulaResult<S> {
    VOLUME.check("the tank's volume", &volume)?;
    LOSS.check("the uncertainty of the loss", &u)?;
    limits::LEAK.check("the leak to be seen", &leak)?;
    Ok(S::from(DETECTION_FACTOR.value) * u * volume / atmosphere(elevation)? / leak)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn at(pressure: f64, temperature: f64) -> Held<f64> {
        Held { pressure, temperature }
    }

    proptest! {
        #[test]
        fn a_cold_morning_is_not_a_leak(p in 50e3f64..500e3, a in 270.0f64..310.0, b in 270.0f64..310.0) {
            let end = precharge_at(p, a, b, 500.0).unwrap();
            let loss = corrected_loss(at(p, a), at(end, b), 500.0).unwrap();
            let leak = air_leak(0.1, at(p, a), at(end, b), 900.0, 500.0).unwrap();
            prop_assert!(loss.abs() < 1e-6 && leak.abs() < 1e-12);
        }

        #[test]
        fn a_water_side_at_rest_loses_no_water(p in 300e3f64..500e3, a in 270.0f64..310.0, b in 270.0f64..310.0) {
            let end = precharge_at(p, a, b, 0.0).unwrap();
            let lost = water_lost(0.1, at(200e3, 288.15), at(p, a), at(end, b), 0.0).unwrap();
            prop_assert!(lost.abs() < 1e-12);
        }

        #[test]
        fn a_longer_test_sees_less(u in 100.0f64..5e3, t in 600.0f64..1e5, v in 0.02f64..0.5) {
            let leak = smallest_leak(v, u, t, 0.0).unwrap();
            prop_assert!((hold_needed(v, u, leak, 0.0).unwrap() / t - 1.0).abs() < 1e-9);
            prop_assert!(smallest_leak(v, u, t * 1.1, 0.0).unwrap() < leak);
        }
    }
}
