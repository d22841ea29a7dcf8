//! The inverse question: which precharge does a measured drawdown imply?
//!
//! The drawdown is greatest with the precharge at the cut-in and smaller on either side, so one
//! drawdown has two explanations: a precharge below the cut-in or one above it. What the gauge
//! does at the end of the draw tells them apart: with the precharge above the cut-in the needle
//! collapses before the pump starts.

use super::atmosphere::{absolute_of, atmosphere};
use super::limits::{SOME_WATER, VOLUME};
use super::out_of_range::{in_order, value};
use super::{FormulaResult, OutOfRange};
use crate::quantity::{Measure, Scalar};

formula!(PRECHARGE_FROM_DRAWDOWN:
    "The precharge that a measured drawdown speaks of.",
    "(drawdown / V) / (1 / cut_in - 1 / cut_out), absolute",
    range "tanks of 0.1 L to 5,000 gal, pressures above vacuum to 150 psi, cut-in below cut-out, at least 1 mL drawn",
    source "Boyle's law"
);

#[doc = PRECHARGE_FROM_DRAWDOWN!()]
///
/// For precharges at or below the cut-in. A result below zero means less air than an open tank holds:
/// a waterlogged tank, or a volume that is not the tank's. More water than the tank can give with
/// any precharge is refused.
///
/// Units: m³, Pa, m to Pa.
///
/// ```
/// use tankhand::physics::precharge_from_drawdown;
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let precharge = precharge_from_drawdown(44.0 * gal, 9.0 * gal, 40.0 * psi, 60.0 * psi, 0.0).unwrap();
/// assert!((precharge / psi - 27.09).abs() < 0.01);
/// ```
pub fn precharge_from_drawdown<S: Scalar>(
    volume: S,
    drawdown: S,
    cut_in: S,
    cut_out: S,
    elevation: S,
) -> FormulaResult<S> {
    check_volumes(&volume, &drawdown)?;
    in_order(&cut_in, &cut_out)?;
    let air = atmosphere(elevation)?;
    let cut_in = absolute_of("the cut-in", cut_in, &air)?;
    let cut_out = absolute_of("the cut-out", cut_out, &air)?;
    let most = volume.clone() * (S::from(1.0) - cut_in.clone() / cut_out.clone());
    if drawdown.value() > most.value() * (1.0 + 1e-12) {
        return Err(OutOfRange::new(
            "a drawdown of {} is more than this tank gives between these pressures with any precharge, {}",
            &[value(Measure::Volume, &drawdown), value(Measure::Volume, &most)],
            "Boyle's law, with the precharge at the cut-in; check the volume on the plate and the bucket",
        ));
    }
    let one = S::from(1.0);
    Ok(drawdown / volume / (one.clone() / cut_in - one / cut_out) - air)
}

formula!(HIGH_PRECHARGE_FROM_DRAWDOWN:
    "The precharge that a measured drawdown speaks of, when the precharge lies above the cut-in.",
    "cut_out (1 - drawdown / V), absolute",
    range "tanks of 0.1 L to 5,000 gal, pressures above vacuum to 150 psi, at least 1 mL drawn and less than the tank's volume",
    source "Boyle's law"
);

#[doc = HIGH_PRECHARGE_FROM_DRAWDOWN!()]
///
/// What the drawdown tells when the pressure collapses before the pump starts.
///
/// Units: m³, Pa, m to Pa.
///
/// ```
/// use tankhand::physics::high_precharge_from_drawdown;
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let precharge = high_precharge_from_drawdown(44.0 * gal, 8.836 * gal, 60.0 * psi, 0.0).unwrap();
/// assert!((precharge / psi - 45.0).abs() < 0.01);
/// ```
pub fn high_precharge_from_drawdown<S: Scalar>(
    volume: S,
    drawdown: S,
    cut_out: S,
    elevation: S,
) -> FormulaResult<S> {
    check_volumes(&volume, &drawdown)?;
    let air = atmosphere(elevation)?;
    let cut_out = absolute_of("the cut-out", cut_out, &air)?;
    Ok(cut_out * (S::from(1.0) - drawdown / volume) - air)
}

fn check_volumes<S: Scalar>(volume: &S, drawdown: &S) -> FormulaResult<()> {
    VOLUME.check("the tank's volume", volume)?;
    SOME_WATER.check("the drawdown", drawdown)?;
    if drawdown.value() < volume.value() {
        return Ok(());
    }
    Err(OutOfRange::new(
        "the drawdown, {}, is not less than the tank's volume, {}",
        &[value(Measure::Volume, drawdown), value(Measure::Volume, volume)],
        "a tank cannot give more than it holds",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::drawdown;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn there_and_back_on_both_branches(
            v in 0.01f64..2.0, cut_in in 100e3f64..400e3, span in 50e3f64..300e3,
            part in 0.01f64..0.999, z in -500.0f64..4_000.0
        ) {
            let cut_out = cut_in + span;
            let low = cut_in * part;
            let given = drawdown(v, low, cut_in, cut_out, z).unwrap();
            let back = precharge_from_drawdown(v, given, cut_in, cut_out, z).unwrap();
            prop_assert!((back - low).abs() < 1e-3, "{back} {low}");
            let high = cut_in + span * part;
            let given = drawdown(v, high, cut_in, cut_out, z).unwrap();
            let back = high_precharge_from_drawdown(v, given, cut_out, z).unwrap();
            prop_assert!((back - high).abs() < 1e-3, "{back} {high}");
        }
    }

    #[test]
    fn the_branches_meet_at_the_cut_in() {
        let most = drawdown(0.1, 276e3, 276e3, 414e3, 0.0).unwrap();
        let low = precharge_from_drawdown(0.1, most, 276e3, 414e3, 0.0).unwrap();
        let high = high_precharge_from_drawdown(0.1, most, 414e3, 0.0).unwrap();
        assert!((low - 276e3).abs() < 1e-3 && (high - 276e3).abs() < 1e-3);
    }

    #[test]
    fn too_much_water_is_told() {
        let fault = precharge_from_drawdown(0.1, 0.05, 276e3, 414e3, 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "a drawdown of 13.209 gal is more than this tank gives between these pressures \
             with any precharge, 7.0743 gal \
             (Boyle's law, with the precharge at the cut-in; check the volume on the plate and the bucket)"
        );
        let fault = precharge_from_drawdown(0.1, 0.1, 276e3, 414e3, 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "the drawdown, 26.417 gal, is not less than the tank's volume, 26.417 gal \
             (a tank cannot give more than it holds)"
        );
    }
}
