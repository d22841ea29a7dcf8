//! The charge to aim for.

use super::atmosphere::{absolute_of, atmosphere};
use super::limits::{GAP, TEMPERATURE};
use super::out_of_range::{pressure, value};
use super::{Checked, OutOfRange, gauge};
use crate::quantity::{Measure, Scalar};

/// Which of the two demands decides the target charge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Governs {
    /// The gap below the cut-in.
    Gap,
    /// The warmest day, when the charge would otherwise rise above the cut-in.
    Warmth,
}

impl Governs {
    /// Why, in a few words.
    pub fn words(self) -> &'static str {
        match self {
            Governs::Gap => "the gap below the cut-in decides",
            Governs::Warmth => "the warmest day decides: there the charge reaches the cut-in",
        }
    }
}

/// A target charge and what decides it.
#[derive(Clone, Debug, PartialEq)]
pub struct ChargeTarget<S> {
    /// The charge to set, at the temperature of setting; Pa.
    pub charge: S,
    /// What decides it.
    pub governs: Governs,
    /// What the gap alone would ask for; Pa.
    pub by_gap: S,
    /// What the warmest day alone would ask for; Pa.
    pub by_warmth: S,
}

/// The charge to set: the lower of the cut-in less the gap, and the charge that, set now, just
/// reaches the cut-in at the warmest.
///
/// `min(cut_in − gap, (cut_in + atmosphere) set_at / warmest − atmosphere)`.
///
/// `gap` is usually 2 psi (Water Systems Council, sheet *Pressure Tanks*, 2007); add to it what
/// the gauge may be off. Units: Pa, K, m to Pa. Range: gap at least 0.1 psi, −40 °C to 60 °C;
/// a target below zero is refused. Source: common practice for the gap, law of Gay-Lussac.
///
/// ```
/// use tankhand::physics::charge_target;
/// let psi = 6894.757;
/// // Set at 45 °F in a room that reaches 95 °F.
/// let target = charge_target(40.0 * psi, 280.37, 308.15, 2.0 * psi, 0.0).unwrap();
/// assert!((target / psi - 35.07).abs() < 0.01);
/// ```
pub fn charge_target<S: Scalar>(cut_in: S, set_at: S, warmest: S, gap: S, elevation: S) -> Checked<S> {
    charge_target_explained(cut_in, set_at, warmest, gap, elevation).map(|target| target.charge)
}

/// [`charge_target`] with the reason that governs.
///
/// ```
/// use tankhand::physics::{Governs, charge_target_explained};
/// let target = charge_target_explained(276e3, 288.15, 293.15, 14e3, 0.0).unwrap();
/// assert_eq!((target.charge, target.governs), (262e3, Governs::Gap));
/// let target = charge_target_explained(276e3, 280.15, 305.15, 14e3, 0.0).unwrap();
/// assert_eq!(target.governs, Governs::Warmth);
/// ```
pub fn charge_target_explained<S: Scalar>(
    cut_in: S,
    set_at: S,
    warmest: S,
    gap: S,
    elevation: S,
) -> Checked<ChargeTarget<S>> {
    TEMPERATURE.check("the temperature at setting", &set_at)?;
    TEMPERATURE.check("the warmest temperature", &warmest)?;
    GAP.check("the gap", &gap)?;
    let air = atmosphere(elevation.clone())?;
    let absolute = absolute_of("the cut-in", cut_in.clone(), &air)?;
    let by_gap = cut_in.clone() - gap.clone();
    let by_warmth = gauge(absolute * set_at / warmest, elevation)?;
    let governs = if by_warmth.value() < by_gap.value() { Governs::Warmth } else { Governs::Gap };
    let charge = by_gap.clone().min(by_warmth.clone());
    if charge.value() < 0.0 {
        return Err(OutOfRange::new(
            "with a cut-in of {} and a gap of {} the charge would have to be {}, below the air outside",
            &[pressure(&cut_in), value(Measure::PressureChange, &gap), pressure(&charge)],
            "a tank open to the air reads zero",
        ));
    }
    Ok(ChargeTarget { charge, governs, by_gap, by_warmth })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::charge_at;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_target_keeps_both_promises(
            cut_in in 130e3f64..480e3, set in 270.0f64..310.0, warm in 270.0f64..320.0,
            gap in 7e3f64..35e3, z in -500.0f64..4_000.0
        ) {
            let target = charge_target_explained(cut_in, set, warm, gap, z).unwrap();
            prop_assert!(target.charge <= cut_in - gap);
            prop_assert!(charge_at(target.charge, set, warm, z).unwrap() <= cut_in + 1e-6);
            prop_assert!(target.charge == target.by_gap || target.charge == target.by_warmth);
        }
    }

    #[test]
    fn a_gap_of_nothing_and_a_target_below_zero_are_told() {
        let psi = 6_894.757_293_168_361;
        let fault = charge_target(40.0 * psi, 288.15, 288.15, 0.0, 0.0).unwrap_err();
        assert_eq!(fault.to_string(), "the gap, 0 psi, is not between 0.1 psi and 100 psi");
        let fault = charge_target(5.0 * psi, 288.15, 288.15, 10.0 * psi, 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "with a cut-in of 5 psi and a gap of 10 psi the charge would have to be -5 psi, \
             below the air outside"
        );
    }
}
