//! What a tank's drawdown and its air gauge say together.
//!
//! The gauge tells the precharge; the bucket tells how much water the tank gives. With the plate's
//! volume each foretells the other, so that where they agree the precharge is what it seems, and
//! where they do not the volume is wrong: the plate is another tank's, or capacity is lost
//! (water behind the bladder, a bladder that no longer unfolds).

use super::FormulaResult;
use super::joint_uncertainty::{Evidence, JointEvidence};
use crate::quantity::Uncertain;

/// What a tank may be found to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finding {
    /// It gives no more water than one whose air is all but gone.
    Waterlogged,
    /// Gauge and bucket agree on a precharge well below the cut-in.
    Low,
    /// Gauge and bucket agree on a precharge at or a little below the cut-in.
    Right,
    /// Gauge and bucket agree on a precharge above the cut-in.
    High,
    /// Gauge and bucket disagree: another volume than the plate's, or capacity is lost.
    WrongVolume,
}

impl Finding {
    /// In a word or two.
    pub fn words(self) -> &'static str {
        match self {
            Finding::Waterlogged => "waterlogged",
            Finding::Low => "low",
            Finding::Right => "right",
            Finding::High => "high",
            Finding::WrongVolume => "wrong volume",
        }
    }
}

/// The probability of each finding; together they are 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diagnosis {
    /// In the order of [`Finding`].
    pub probabilities: [(Finding, f64); 5],
}

impl Diagnosis {
    /// The finding whose probability reaches the confidence; none when the numbers do not tell.
    pub fn finding(&self, confidence: f64) -> Option<Finding> {
        self.probabilities.iter().find(|(_, p)| *p >= confidence).map(|(finding, _)| *finding)
    }

    /// The probability of a finding.
    pub fn of(&self, finding: Finding) -> f64 {
        self.probabilities.iter().find(|(other, _)| *other == finding).map_or(0.0, |(_, p)| *p)
    }
}

formula!(DIAGNOSIS:
    "What the drawdown and the air gauge say together of a tank.",
    "P(|drawdown / V - share(precharge)| <= 0.1 share + 0.005) with precharge in its class, errors jointly normal",
    range "tanks of 0.1 L to 5,000 gal, pressures above vacuum to 150 psi, cut-in below cut-out, no drawdown above the volume",
    source "Boyle's law; JCGM 106:2012, 7"
);

#[doc = DIAGNOSIS!()]
///
/// For each precharge the gauge allows, the drawdown it foretells ([`drawdown`](super::drawdown)) is held
/// against
/// the one measured. Within 10 % they agree, and the precharge is low (more than 7 psi below the
/// cut-in), right, or high (above the cut-in). With a drawdown no more than a precharge of 2 psi
/// gives the tank is waterlogged, unless that very precharge is read well above. All else is a wrong
/// volume. Errors are taken as jointly normal, to first order; what a gauge is off in all its
/// readings is counted once.
///
/// Units: as [`Evidence`]; m. The limits are judgements.
///
/// ```
/// use tankhand::physics::{Evidence, Finding, diagnose};
/// use tankhand::quantity::Uncertain;
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let known = |x: f64| Uncertain::exact(x);
/// let found = Evidence {
///     volume: known(44.0 * gal),
///     drawdown: known(11.2 * gal),
///     precharge: known(38.0 * psi),
///     cut_in: known(40.0 * psi),
///     cut_out: known(60.0 * psi),
/// };
/// assert_eq!(diagnose(&found, known(0.0)).unwrap().finding(0.95), Some(Finding::Right));
/// ```
pub fn diagnose(found: &Evidence, elevation: Uncertain) -> FormulaResult<Diagnosis> {
    let joint = JointEvidence::new(found, elevation)?;
    let mut sums = [0.0; 5];
    let mut whole = 0.0;
    // Middles of slices from -6 to 6 standard uncertainties; only one where there is no uncertainty.
    let slices = if joint.u_above == 0.0 { 1 } else { 241 };
    for slice in 0..slices {
        let z = 12.0 * (f64::from(slice) + 0.5) / f64::from(slices) - 6.0;
        let density = (-0.5 * z * z).exp();
        let shares = joint.shares(z)?;
        for (sum, share) in sums.iter_mut().zip(shares) {
            *sum += density * share;
        }
        whole += density;
    }
    let order = [Finding::Waterlogged, Finding::Low, Finding::Right, Finding::High, Finding::WrongVolume];
    let mut probabilities = order.map(|finding| (finding, 0.0));
    for (entry, sum) in probabilities.iter_mut().zip(sums) {
        entry.1 = (sum / whole).clamp(0.0, 1.0);
    }
    Ok(Diagnosis { probabilities })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::drawdown;
    use crate::quantity::{GALLON, PSI, SourceId};
    use proptest::prelude::*;

    /// 44 gal at 40/60: gallons caught, psi on the air gauge, and how well they are known.
    fn found(gallons: f64, precharge: f64, [u_gallons, u_air, u_line]: [f64; 3]) -> Diagnosis {
        let known =
            |x: f64, source: u64, u: f64| Uncertain::exact(x).with_component(SourceId::Reading(source), u);
        let evidence = Evidence {
            volume: Uncertain::exact(44.0 * GALLON),
            drawdown: known(gallons * GALLON, 1, u_gallons * GALLON),
            precharge: known(precharge * PSI, 2, u_air * PSI),
            cut_in: known(40.0 * PSI, 3, u_line * PSI),
            cut_out: known(60.0 * PSI, 3, u_line * PSI),
        };
        diagnose(&evidence, Uncertain::exact(0.0)).unwrap()
    }

    #[test]
    fn plain_cases_are_told_apart() {
        use Finding::*;
        let sharp = [0.1, 0.3, 0.3];
        let table = [
            (11.2, 38.0, Some(Right)),
            (8.0, 22.0, Some(Low)),
            (8.8, 45.0, Some(High)),
            (7.0, 38.0, Some(WrongVolume)),
            (13.5, 38.0, Some(WrongVolume)),
            (2.0, 0.0, Some(Waterlogged)),
            (1.0, 38.0, Some(Waterlogged)),
            (0.0, 65.0, Some(High)),
            (10.2, 38.0, None),
            (11.4, 40.0, None),
        ];
        for (gallons, precharge, expected) in table {
            let diagnosis = found(gallons, precharge, sharp);
            assert_eq!(diagnosis.finding(0.95), expected, "{gallons} gal, {precharge} psi: {diagnosis:?}");
        }
        assert_eq!(found(11.2, 38.0, [0.8, 3.0, 3.0]).finding(0.95), None, "coarse gauges do not tell");
    }

    proptest! {
        #[test]
        fn probabilities_are_whole(
            gallons in 0.0f64..20.0, precharge in 0.0f64..90.0, u in proptest::array::uniform3(0.0f64..3.0)
        ) {
            let diagnosis = found(gallons, precharge, u);
            let sum: f64 = diagnosis.probabilities.iter().map(|(_, p)| p).sum();
            prop_assert!((sum - 1.0).abs() < 1e-6, "{diagnosis:?}");
        }

        /// Against counting over a grid of both errors (JCGM 101, by stratified draws).
        #[test]
        fn the_integral_agrees_with_counting(gallons in 7.0f64..13.0, precharge in 30.0f64..44.0) {
            let (u_gallons, u_air) = (0.4, 1.2);
            let diagnosis = found(gallons, precharge, [u_gallons, u_air, 0.0]);
            let errors = crate::physics::confidence::slices(150);
            let mut right = 0.0;
            for air in &errors {
                let precharge = precharge + air * u_air;
                let foretold = 44.0 * drawdown(1.0, precharge * PSI, 40.0 * PSI, 60.0 * PSI, 0.0).unwrap();
                let reach = 0.1 * foretold + 0.005 * 44.0;
                let agree = errors.iter().filter(|e| (gallons + *e * u_gallons - foretold).abs() <= reach).count();
                right += if (33.0..=40.0).contains(&precharge) { agree as f64 } else { 0.0 };
            }
            prop_assert!((diagnosis.of(Finding::Right) - right / 22_500.0).abs() < 0.02);
        }
    }

    #[test]
    fn more_water_than_the_tank_holds_is_told() {
        let known = |x: f64| Uncertain::exact(x);
        let evidence = Evidence {
            volume: known(44.0 * GALLON),
            drawdown: known(50.0 * GALLON),
            precharge: known(38.0 * PSI),
            cut_in: known(40.0 * PSI),
            cut_out: known(60.0 * PSI),
        };
        assert_eq!(
            diagnose(&evidence, known(0.0)).unwrap_err().to_string(),
            "the drawdown, 50 gal, is not less than the tank's volume, 44 gal \
             (a tank cannot give more than it holds)"
        );
    }

    #[test]
    fn a_finding_is_told_from_the_confidence_itself_on() {
        use Finding::*;
        let probabilities =
            [(Waterlogged, 0.01), (Low, 0.02), (Right, 0.95), (High, 0.015), (WrongVolume, 0.005)];
        let diagnosis = Diagnosis { probabilities };
        for (confidence, expected) in [(0.9, Some(Right)), (0.95, Some(Right)), (0.95f64.next_up(), None)] {
            assert_eq!(diagnosis.finding(confidence), expected, "{confidence}");
        }
        assert_eq!(probabilities.map(|(finding, _)| diagnosis.of(finding)), probabilities.map(|(_, p)| p));
    }

    /// One draw of the precharge in two lies above the cut-in it is equal to (the normal distribution is
    /// even).
    #[test]
    fn a_charge_at_the_cut_in_is_right_or_high_alike() {
        let water = 44.0 * drawdown(1.0, 40.0 * PSI, 40.0 * PSI, 60.0 * PSI, 0.0).unwrap();
        let diagnosis = found(water, 40.0, [0.01, 0.5, 0.0]);
        let (right, high) = (diagnosis.of(Finding::Right), diagnosis.of(Finding::High));
        // The slice in the middle, a twentieth of u wide, counts as right.
        assert!((right - high - 0.0199).abs() < 1e-3 && right + high > 0.999_9, "{diagnosis:?}");
    }
}
