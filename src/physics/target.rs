//! The precharge to aim for.

use super::atmosphere::{absolute_of, atmosphere};
use super::limits::{GAP, GAUGE_UNCERTAINTY, TEMPERATURE};
use super::out_of_range::{pressure, value};
use super::{FormulaResult, OutOfRange, drawdown, gauge};
use crate::quantity::{Measure, PSI, Scalar};

/// Which of the three demands decides the target precharge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Governs {
    /// The gap below the cut-in.
    Gap,
    /// The warmest day, when the precharge would otherwise rise above the cut-in.
    Warmth,
    /// What the gauges may be off, on the warmest day.
    Uncertainty,
}

/// What is asked of a precharge.
#[derive(Clone, Debug, PartialEq)]
pub struct Demands<S> {
    /// The lowest cut-in measured; Pa.
    pub cut_in: S,
    /// Temperature of the air while the precharge is set; K.
    pub set_at: S,
    /// The warmest it is expected to become; K.
    pub warmest: S,
    /// How far the precharge is to lie below the cut-in as read; Pa.
    pub gap: S,
    /// How far precharge less cut-in may be off, at the confidence asked for; zero for gauges
    /// without uncertainty; Pa.
    pub uncertainty: S,
}

/// A target precharge and what decides it.
#[derive(Clone, Debug, PartialEq)]
pub struct PrechargeTarget<S> {
    /// The precharge to set, at the temperature of setting; Pa.
    pub precharge: S,
    /// What decides it.
    pub governs: Governs,
    /// What the gap alone would ask for; Pa.
    pub by_gap: S,
    /// What the warmest day alone would ask for; Pa.
    pub by_warmth: S,
    /// What the gauges' uncertainty asks for on the warmest day, and today; Pa.
    pub by_uncertainty: S,
}

/// [`precharge_target_explained`] for gauges that are never off: the precharge alone.
///
/// ```
/// use tankhand::physics::precharge_target;
/// let psi = 6894.757;
/// // Set at 45 °F in a room that reaches 95 °F.
/// let target = precharge_target(40.0 * psi, 280.37, 308.15, 2.0 * psi, 0.0).unwrap();
/// assert!((target / psi - 35.07).abs() < 0.01);
/// ```
pub fn precharge_target<S: Scalar>(
    cut_in: S,
    set_at: S,
    warmest: S,
    gap: S,
    elevation: S,
) -> FormulaResult<S> {
    let demands = Demands { cut_in, set_at, warmest, gap, uncertainty: S::from(0.0) };
    precharge_target_explained(demands, elevation).map(|target| target.precharge)
}

formula!(PRECHARGE_TARGET:
    "The precharge to set: under the cut-in by the gap, and still under it on the warmest day, with room for what the gauges may be off.",
    "min(cut_in - gap, w, min(w, cut_in) - uncertainty), w = (cut_in + atmosphere) × set_at / warmest - atmosphere, kelvin",
    range "gap at least 0.1 psi, uncertainty to 50 psi, -40 °C to 60 °C; a target below zero is refused",
    source "gap: Water Systems Council, Pressure Tanks (2007); law of Gay-Lussac; guard band: JCGM 106:2012, 8.3 (clause from memory)"
);

#[doc = PRECHARGE_TARGET!()]
///
/// The lowest of the cut-in less the gap; the precharge that, set now, just reaches the cut-in at
/// the warmest; and the lower of that and the cut-in, less the uncertainty.
///
/// `uncertainty` is the one-sided limit, at the confidence asked for, of precharge less cut-in: 1.645 u at
/// 95 %. It counts both gauges, for the air gauge and the line gauge are off on their own; what
/// one gauge is off in both readings cancels. The precharge to come has not been read, so a reading
/// taken with the same air gauge stands in for it. That the uncertainty is taken off at the temperature
/// of setting is on the careful side: the warmest widens the margin as it raises the precharge.
///
/// Units: Pa, K, m to Pa.
///
/// ```
/// use tankhand::physics::{Demands, Governs, precharge_target_explained};
/// let demands = Demands { cut_in: 276e3, set_at: 288.15, warmest: 293.15, gap: 14e3, uncertainty: 0.0 };
/// let sure = precharge_target_explained(demands.clone(), 0.0).unwrap();
/// assert_eq!((sure.precharge, sure.governs), (262e3, Governs::Gap));
/// let unsure = precharge_target_explained(Demands { uncertainty: 10e3, ..demands }, 0.0).unwrap();
/// assert_eq!(unsure.governs, Governs::Uncertainty);
/// assert_eq!(unsure.precharge, unsure.by_warmth - 10e3);
/// ```
pub fn precharge_target_explained<S: Scalar>(
    demands: Demands<S>,
    elevation: S,
) -> FormulaResult<PrechargeTarget<S>> {
    let Demands { cut_in, set_at, warmest, gap, uncertainty } = demands;
    TEMPERATURE.check("the temperature at setting", &set_at)?;
    TEMPERATURE.check("the warmest temperature", &warmest)?;
    GAP.check("the gap", &gap)?;
    GAUGE_UNCERTAINTY.check("what the gauges may be off", &uncertainty)?;
    let air = atmosphere(elevation.clone())?;
    let absolute = absolute_of("the cut-in", cut_in.clone(), &air)?;
    let by_gap = cut_in.clone() - gap.clone();
    let by_warmth = gauge(absolute * set_at / warmest, elevation)?;
    let by_uncertainty = by_warmth.clone().min(cut_in.clone()) - uncertainty;
    let governs = if by_uncertainty.value() < by_gap.value().min(by_warmth.value()) {
        Governs::Uncertainty
    } else if by_warmth.value() < by_gap.value() {
        Governs::Warmth
    } else {
        Governs::Gap
    };
    let precharge = by_gap.clone().min(by_warmth.clone()).min(by_uncertainty.clone());
    if precharge.value() < 0.0 {
        return Err(OutOfRange::new(
            "with a cut-in of {} and a gap of {} the precharge would have to be {}, below the air outside",
            &[pressure(&cut_in), value(Measure::PressureChange, &gap), pressure(&precharge)],
            "a tank open to the air reads zero",
        ));
    }
    Ok(PrechargeTarget { precharge, governs, by_gap, by_warmth, by_uncertainty })
}

/// The gap that is usual; Pa.
const USUAL_GAP: f64 = 2.0 * PSI;

formula!(COST_OF_GAP:
    "The drawdown that a precharge gives up beside one only 2 psi below the cut-in.",
    "drawdown(volume, cut_in - 2 psi, cut_in, cut_out) - drawdown(volume, precharge, cut_in, cut_out)",
    range "tanks of 0.1 L to 5,000 gal, pressures above vacuum to 150 psi, cut-in below cut-out",
    source "Boyle's law; 2 psi: Water Systems Council, Pressure Tanks (2007)"
);

#[doc = COST_OF_GAP!()]
///
/// By [`drawdown`]; below zero for a precharge nearer the cut-in than that.
///
/// Units: m³, Pa, m to m³.
///
/// ```
/// use tankhand::physics::cost_of_gap;
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let cost = cost_of_gap(44.0 * gal, 35.0 * psi, 40.0 * psi, 60.0 * psi, 0.0).unwrap();
/// assert!((cost / gal - 0.646).abs() < 0.001);
/// ```
pub fn cost_of_gap<S: Scalar>(
    volume: S,
    precharge: S,
    cut_in: S,
    cut_out: S,
    elevation: S,
) -> FormulaResult<S> {
    let usual = cut_in.clone() - S::from(USUAL_GAP);
    let most = drawdown(volume.clone(), usual, cut_in.clone(), cut_out.clone(), elevation.clone())?;
    Ok(most - drawdown(volume, precharge, cut_in, cut_out, elevation)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::precharge_at;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_target_keeps_all_promises(
            cut_in in 130e3f64..480e3, set in 270.0f64..310.0, warm in 270.0f64..320.0,
            gap in 7e3f64..35e3, uncertainty in 0.0f64..30e3, z in -500.0f64..4_000.0
        ) {
            let demands = Demands { cut_in, set_at: set, warmest: warm, gap, uncertainty };
            let target = precharge_target_explained(demands, z).unwrap();
            prop_assert!(target.precharge <= cut_in - gap);
            prop_assert!(precharge_at(target.precharge, set, warm, z).unwrap() <= cut_in + 1e-6);
            // Off by the uncertainty, however it falls to the two gauges, it still lies below.
            let read_high = precharge_at(target.precharge + uncertainty, set, warm, z).unwrap();
            prop_assert!(read_high <= cut_in + 1e-6);
            let cut_in_low = precharge_at(target.precharge, set, warm, z).unwrap();
            prop_assert!(warm < set || cut_in_low <= cut_in - uncertainty + 1e-6);
            let by = [(Governs::Gap, target.by_gap), (Governs::Warmth, target.by_warmth),
                (Governs::Uncertainty, target.by_uncertainty)];
            prop_assert!(by.contains(&(target.governs, target.precharge)));
        }
    }

    /// JCGM 106 by simulation: both gauges off at random, each by its own, the precharge set by
    /// the air gauge as told stays below the cut-in in 95 of 100 houses.
    #[test]
    fn the_confidence_is_what_it_says() {
        use crate::physics::one_sided;
        let (u_air, u_line) = (8e3f64, 5e3f64);
        let uncertainty = one_sided(0.95).unwrap() * u_air.hypot(u_line);
        let demands = Demands { cut_in: 276e3, set_at: 288.15, warmest: 298.15, gap: 7e3, uncertainty };
        let target = precharge_target_explained(demands, 0.0).unwrap();
        assert_eq!(target.governs, Governs::Uncertainty);
        let errors = crate::physics::confidence::slices(400);
        let below = errors
            .iter()
            .flat_map(|air| errors.iter().map(move |line| (air, line)))
            .filter(|(air, line)| {
                let warm = precharge_at(target.precharge + **air * u_air, 288.15, 298.15, 0.0).unwrap();
                warm < 276e3 + **line * u_line
            })
            .count() as f64
            / 160_000.0;
        assert!((0.95..0.955).contains(&below), "{below}");
    }

    /// The air cools after it was set, so that today is the day on which it stands highest.
    #[test]
    fn the_doubt_counts_from_the_cut_in_when_set_on_a_day_warmer_than_the_warmest() {
        let demands = Demands { cut_in: 276e3, set_at: 305.0, warmest: 290.0, gap: 7e3, uncertainty: 10e3 };
        let target = precharge_target_explained(demands, 0.0).unwrap();
        assert!(target.by_warmth > 276e3, "{target:?}");
        assert_eq!(
            (target.precharge, target.by_uncertainty, target.governs),
            (266e3, 266e3, Governs::Uncertainty)
        );
    }

    /// Without a word about them, gauges count as sure.
    #[test]
    fn sure_gauges_take_nothing_off() {
        let demands = Demands { cut_in: 276e3, set_at: 288.15, warmest: 308.15, gap: 7e3, uncertainty: 0.0 };
        let target = precharge_target_explained(demands, 0.0).unwrap();
        assert_eq!((target.precharge, target.governs), (target.by_warmth, Governs::Warmth));
        assert_eq!(precharge_target(276e3, 288.15, 308.15, 7e3, 0.0), Ok(target.by_warmth));
    }

    #[test]
    fn a_gap_of_nothing_and_a_target_below_zero_are_told() {
        let psi = PSI;
        let fault = precharge_target(40.0 * psi, 288.15, 288.15, 0.0, 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "the gap, 0 psi, is not between 0.1 psi and 100 psi \
             (the precharge must lie below the cut-in, common practice)"
        );
        let fault = precharge_target(5.0 * psi, 288.15, 288.15, 10.0 * psi, 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "with a cut-in of 5 psi and a gap of 10 psi the precharge would have to be -5 psi, \
             below the air outside \
             (a tank open to the air reads zero)"
        );
    }
}
