//! The air law in a bladder tank: how much water it holds and gives.
//!
//! The air behind the bladder keeps its amount and, given time, the temperature of its
//! surroundings, so its pressure times its volume stays the same (Boyle). Real air departs from
//! this by less than 0.2 % of the drawdown at household pressures (computed against CoolProp
//! 8.0.0), fast filling by far more.

use super::atmosphere::{absolute_of, atmosphere};
use super::limits::VOLUME;
use super::out_of_range::in_order;
use super::{FormulaResult, limits};
use crate::quantity::Scalar;

formula!(WATER_HELD:
    "The water a tank holds at a line pressure.",
    "V (1 - precharge / pressure), absolute; none at or below the precharge",
    range "tanks of 0.1 L to 5,000 gal, pressures above vacuum to 150 psi",
    source "Boyle's law; acceptance factor of Water Systems Council, Pressure Tanks (2007)"
);

#[doc = WATER_HELD!()]
///
/// At or below the precharge the bladder lies against its stop.
///
/// Units: m³, Pa, m to m³.
///
/// ```
/// use tankhand::physics::water_held;
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let held = water_held(44.0 * gal, 38.0 * psi, 60.0 * psi, 0.0).unwrap();
/// assert!((held / gal - 12.96).abs() < 0.01);
/// assert_eq!(water_held(44.0 * gal, 38.0 * psi, 30.0 * psi, 0.0).unwrap(), 0.0);
/// ```
pub fn water_held<S: Scalar>(volume: S, precharge: S, pressure: S, elevation: S) -> FormulaResult<S> {
    VOLUME.check("the tank's volume", &volume)?;
    let air = atmosphere(elevation)?;
    let precharge = absolute_of("the precharge", precharge, &air)?;
    let pressure = absolute_of("the pressure", pressure, &air)?;
    Ok(held(&volume, &precharge, &pressure))
}

/// Water in a tank, pressures absolute and already checked.
pub(crate) fn held<S: Scalar>(volume: &S, precharge: &S, pressure: &S) -> S {
    if pressure.value() <= precharge.value() {
        return S::from(0.0);
    }
    volume.clone() * (S::from(1.0) - precharge.clone() / pressure.clone())
}

formula!(DRAWDOWN:
    "The water a tank gives between the pump's stop and its start.",
    "V × precharge (1 / cut_in - 1 / cut_out), absolute; with the precharge above the cut-in V (1 - precharge / cut_out)",
    range "tanks of 0.1 L to 5,000 gal, pressures above vacuum to 150 psi, cut-in below cut-out",
    source "Boyle's law"
);

#[doc = DRAWDOWN!()]
///
/// Slowly drawn. With the precharge above the cut-in the tank is empty once the pressure is down to
/// the precharge, so the drawdown ends there; [`dead_gap`] is then above zero. With the precharge at or
/// above the cut-out the tank takes no water at all: the drawdown is zero.
///
/// Units: m³, Pa, m to m³.
///
/// ```
/// use tankhand::physics::drawdown;
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let good = drawdown(44.0 * gal, 38.0 * psi, 40.0 * psi, 60.0 * psi, 0.0).unwrap();
/// assert!((good / gal - 11.350).abs() < 0.002);
/// let high = drawdown(44.0 * gal, 45.0 * psi, 40.0 * psi, 60.0 * psi, 0.0).unwrap();
/// assert!((high / gal - 8.836).abs() < 0.002);
/// ```
pub fn drawdown<S: Scalar>(volume: S, precharge: S, cut_in: S, cut_out: S, elevation: S) -> FormulaResult<S> {
    VOLUME.check("the tank's volume", &volume)?;
    in_order(&cut_in, &cut_out)?;
    let air = atmosphere(elevation)?;
    let precharge = absolute_of("the precharge", precharge, &air)?;
    let cut_in = absolute_of("the cut-in", cut_in, &air)?;
    let cut_out = absolute_of("the cut-out", cut_out, &air)?;
    Ok(given(&volume, &precharge, &cut_in, &cut_out))
}

/// Water that a tank gives, pressures absolute and already checked, in any units.
pub(crate) fn given<S: Scalar>(volume: &S, precharge: &S, cut_in: &S, cut_out: &S) -> S {
    held(volume, precharge, cut_out) - held(volume, precharge, cut_in)
}

formula!(DEAD_GAP:
    "How far the pressure falls away, the tank empty, before the pump starts.",
    "precharge - cut_in, and zero when that is below zero",
    range "gauge pressures to 150 psi",
    source "a bladder tank holds no water below its precharge"
);

#[doc = DEAD_GAP!()]
///
/// Units: Pa to Pa (a change).
///
/// ```
/// use tankhand::physics::dead_gap;
/// assert_eq!(dead_gap(310e3, 276e3).unwrap(), 34e3);
/// assert_eq!(dead_gap(262e3, 276e3).unwrap(), 0.0);
/// ```
pub fn dead_gap<S: Scalar>(precharge: S, cut_in: S) -> FormulaResult<S> {
    limits::GAUGE_PRESSURE.check("the precharge", &precharge)?;
    limits::GAUGE_PRESSURE.check("the cut-in", &cut_in)?;
    Ok((precharge - cut_in).max(S::from(0.0)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const KPA: f64 = 1e3;

    proptest! {
        #[test]
        fn more_pressure_more_water(precharge in 50.0f64..400.0, p in 50.0f64..900.0, z in -500.0f64..5_000.0) {
            let less = water_held(0.1, precharge * KPA, p * KPA, z).unwrap();
            let more = water_held(0.1, precharge * KPA, (p + 5.0) * KPA, z).unwrap();
            prop_assert!(less <= more && (0.0..0.1).contains(&more));
            prop_assert!(less < more || p + 5.0 <= precharge);
        }

        #[test]
        fn the_drawdown_peaks_with_the_charge_at_the_cut_in(
            below in 1.0f64..200.0, above in 1.0f64..190.0, z in -500.0f64..5_000.0
        ) {
            let at = |precharge: f64| drawdown(0.1, precharge * KPA, 276.0 * KPA, 414.0 * KPA, z).unwrap();
            prop_assert!(at(276.0 - below) < at(276.0));
            prop_assert!(at(276.0 + above) < at(276.0));
        }

        #[test]
        fn wider_switch_more_water(cut_in in 100.0f64..300.0, span in 20.0f64..300.0) {
            let at = |i: f64, o: f64| drawdown(0.1, 90.0 * KPA, i * KPA, o * KPA, 0.0).unwrap();
            prop_assert!(at(cut_in, cut_in + span) < at(cut_in, cut_in + span + 1.0));
            prop_assert!(at(cut_in, cut_in + span) < at(cut_in - 1.0, cut_in + span));
        }
    }

    #[test]
    fn a_charge_above_the_cut_out_takes_no_water() {
        assert_eq!(drawdown(0.1, 500e3, 276e3, 414e3, 0.0), Ok(0.0));
        assert_eq!(drawdown(0.1, 414e3, 276e3, 414e3, 0.0), Ok(0.0));
        let just_below = drawdown(0.1, 413.9e3, 276e3, 414e3, 0.0).unwrap();
        assert!(just_below > 0.0 && just_below < 1e-4);
    }

    #[test]
    fn an_impossible_switch_is_told() {
        let fault = drawdown(0.1, 200e3, 414e3, 414e3, 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "the cut-in, 60.046 psi, is not below the cut-out, 60.046 psi \
             (a pump starts at the cut-in and stops at the higher cut-out)"
        );
    }

    /// The bladder lies against its stop up to the precharge itself: nothing is uncertain there.
    #[test]
    fn at_the_charge_nothing_is_held_and_nothing_doubted() {
        use crate::quantity::{SourceId, Uncertain};
        let at = |pressure: f64| {
            let volume = Uncertain::exact(0.1).with_component(SourceId::Reading(1), 0.01);
            let precharge = Uncertain::exact(2e5).with_component(SourceId::Reading(2), 1e3);
            held(&volume, &precharge, &Uncertain::exact(pressure))
        };
        assert_eq!((at(1e5), at(2e5)), (Uncertain::exact(0.0), Uncertain::exact(0.0)));
        let above = at(2e5f64.next_up());
        assert!(above.value() > 0.0 && above.standard_uncertainty() > 1e-4);
        assert_eq!(at(4e5).value(), 0.05);
    }
}
