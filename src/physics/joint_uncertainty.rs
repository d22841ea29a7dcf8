//! How a precharge and a drawdown, both uncertain, hang together: the shares of the findings for each
//! precharge that the gauge allows.

use super::out_of_range::value;
use super::{FormulaResult, OutOfRange, drawdown, limits};
use crate::quantity::Measure::Volume;
use crate::quantity::{PSI, Uncertain, normal_below};

/// A precharge so far below the cut-in is low: the usual 2 psi and 5 more (judgement).
const LOW: f64 = 7.0 * PSI;
/// A precharge up to this is as good as none: the zero of a gauge is good to 2 psi (judgement).
const NONE: f64 = 2.0 * PSI;
/// Plate, bucket and air still warm may part the two ways to know the drawdown by so much of it,
/// and by so much of the volume (judgement: nominal sizes are off by 7 %).
const WITHIN: f64 = 0.10;
const WITHIN_OF_VOLUME: f64 = 0.005;

/// What was measured on one tank.
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence {
    /// Volume on the plate; m³.
    pub volume: Uncertain,
    /// Water caught between cut-out and cut-in, drawn slowly; m³.
    pub drawdown: Uncertain,
    /// Precharge by the air gauge, the tank empty; Pa.
    pub precharge: Uncertain,
    /// Where the pump starts; Pa.
    pub cut_in: Uncertain,
    /// Where it stops; Pa.
    pub cut_out: Uncertain,
}

/// How precharge and drawdown, both uncertain, hang together.
pub(super) struct JointEvidence {
    cut_in: f64,
    cut_out: f64,
    elevation: f64,
    /// Precharge less cut-in.
    above: f64,
    pub u_above: f64,
    /// Drawdown measured, as a share of the volume.
    given: f64,
    /// How it moves with `above`, and its uncertainty apart from that; with the uncertainty of the switch.
    slope: f64,
    u_given: f64,
    waterlogged: f64,
}

impl JointEvidence {
    /// From what was measured; to first order.
    pub fn new(found: &Evidence, elevation: Uncertain) -> FormulaResult<JointEvidence> {
        let Evidence { volume, drawdown: given, precharge, cut_in, cut_out } = found;
        limits::VOLUME.check("the tank's volume", volume)?;
        limits::DRAWDOWN.check("the drawdown", given)?;
        if given.value() >= volume.value() {
            return Err(too_much(given, volume));
        }
        let share = |precharge: f64| {
            let (one, precharge) = (Uncertain::exact(1.0), Uncertain::exact(precharge));
            drawdown(one, precharge, cut_in.clone(), cut_out.clone(), elevation.clone())
        };
        let above = precharge.clone() - cut_in.clone();
        let measured = given.clone() / volume.clone();
        let off = measured.clone() - share(precharge.value())?;
        let (u_above, u_off) = (above.standard_uncertainty(), off.standard_uncertainty());
        let together = (above.clone() + off.clone()).standard_uncertainty();
        let covariance = 0.5 * (together.powi(2) - u_above.powi(2) - u_off.powi(2));
        let slope = if u_above > 0.0 { covariance / u_above.powi(2) } else { 0.0 };
        Ok(JointEvidence {
            cut_in: cut_in.value(),
            cut_out: cut_out.value(),
            elevation: elevation.value(),
            above: above.value(),
            u_above,
            given: measured.value(),
            slope,
            u_given: (u_off.powi(2) - (slope * u_above).powi(2)).max(0.0).sqrt(),
            waterlogged: share(NONE)?.value(),
        })
    }

    /// The shares of waterlogged, low, right, high and wrong volume, given a precharge `z` standard
    /// uncertainties off.
    pub fn shares(&self, z: f64) -> FormulaResult<[f64; 5]> {
        let off = if self.u_above == 0.0 { 0.0 } else { z * self.u_above };
        let above = self.above + off;
        let precharge = self.cut_in + above;
        let foretold = drawdown(1.0, precharge.max(-50e3), self.cut_in, self.cut_out, self.elevation)?;
        let mean = self.given + self.slope * off;
        let below = |limit: f64| match self.u_given {
            u if u > 0.0 => normal_below((limit - mean) / u),
            _ => f64::from(u8::from(mean <= limit)),
        };
        let reach = WITHIN * foretold + WITHIN_OF_VOLUME;
        let (low, high) = (foretold - reach, foretold + reach);
        let water = self.waterlogged;
        let (agree, logged) = if precharge <= NONE {
            ((below(high) - below(low.max(water))).max(0.0), below(water))
        } else {
            let agree = (below(high) - below(low)).max(0.0);
            let both = (below(high.min(water)) - below(low)).max(0.0);
            (agree, (below(water) - both).max(0.0))
        };
        let rest = (1.0 - agree - logged).max(0.0);
        Ok(match above {
            x if x > 0.0 => [logged, 0.0, 0.0, agree, rest],
            x if x >= -LOW => [logged, 0.0, agree, 0.0, rest],
            _ => [logged, agree, 0.0, 0.0, rest],
        })
    }
}

fn too_much(given: &Uncertain, volume: &Uncertain) -> OutOfRange {
    OutOfRange::new(
        "the drawdown, {}, is not less than the tank's volume, {}",
        &[value(Volume, given), value(Volume, volume)],
        "a tank cannot give more than it holds",
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::water_held;
    use crate::quantity::{GALLON, SourceId};

    fn sea_level() -> Uncertain {
        Uncertain::exact(0.0)
    }

    /// 44 gal at 40/60 with one line gauge; `precharge` and `air` in psi, the air gauge a part of the line's.
    fn doubted(gallons: f64, precharge: f64, air: f64) -> Evidence {
        let known =
            |x: f64, source: u64, u: f64| Uncertain::exact(x).with_component(SourceId::Reading(source), u);
        Evidence {
            volume: known(44.0 * GALLON, 1, 1.0 * GALLON),
            drawdown: known(gallons * GALLON, 2, 0.3 * GALLON),
            precharge: known(precharge * PSI, 3, air * PSI).with_component(SourceId::Gauge(9), 0.5 * PSI),
            cut_in: known(40.0 * PSI, 4, 0.2 * PSI).with_component(SourceId::Gauge(9), 0.9 * PSI),
            cut_out: known(60.0 * PSI, 5, 0.3 * PSI).with_component(SourceId::Gauge(9), 0.9 * PSI),
        }
    }

    /// Of two straight functions of the same sources the covariance is the sum of the products of what
    /// each source contributes to both (JCGM 100:2008, F.1.2.3).
    #[test]
    fn what_charge_and_drawdown_share_is_their_covariance() {
        for (gallons, precharge, air) in
            [(11.2, 38.0, 1.0), (8.0, 22.0, 0.1), (8.8, 45.0, 2.0), (1.0, 0.0, 1.0)]
        {
            let found = doubted(gallons, precharge, air);
            let joint = JointEvidence::new(&found, sea_level()).unwrap();
            let above = found.precharge.clone() - found.cut_in.clone();
            let at = Uncertain::exact(precharge * PSI);
            let (cut_in, cut_out) = (found.cut_in.clone(), found.cut_out.clone());
            let foretold = drawdown(Uncertain::exact(1.0), at, cut_in, cut_out, sea_level()).unwrap();
            let off = found.drawdown / found.volume - foretold;
            let part = |of: &Uncertain, id: SourceId| {
                of.components().iter().find(|(other, _)| *other == id).map_or(0.0, |(_, part)| *part)
            };
            let covariance: f64 = above.components().iter().map(|(id, u)| u * part(&off, *id)).sum();
            let (u_above, u_off) = (above.standard_uncertainty(), off.standard_uncertainty());
            let slope = covariance / u_above.powi(2);
            let apart = (u_off.powi(2) - covariance.powi(2) / u_above.powi(2)).sqrt();
            assert!((joint.u_above / u_above - 1.0).abs() < 1e-12);
            assert!((joint.slope - slope).abs() < 1e-9 * u_off / u_above, "{} {slope}", joint.slope);
            assert!((joint.u_given / apart - 1.0).abs() < 1e-9, "{} {apart}", joint.u_given);
            assert!(
                (joint.given - gallons / 44.0).abs() < 1e-12 && (joint.above - above.value()).abs() < 1e-9
            );
        }
    }

    /// Far below a pascal a doubt is one still.
    #[test]
    fn charge_and_drawdown_hang_together_however_small_the_doubt() {
        let found = doubted(11.2, 38.0, 1.0);
        let joint = |by: f64| {
            let less = |x: &Uncertain| x.clone().rescaled(&|_| by);
            let [volume, drawdown, precharge, cut_in, cut_out] =
                [&found.volume, &found.drawdown, &found.precharge, &found.cut_in, &found.cut_out].map(less);
            let found = Evidence { volume, drawdown, precharge, cut_in, cut_out };
            JointEvidence::new(&found, sea_level()).unwrap()
        };
        let (whole, small) = (joint(1.0), joint(1e-5));
        assert!(small.u_above < 0.1 && (small.u_above / whole.u_above * 1e5 - 1.0).abs() < 1e-9);
        assert!((small.slope / whole.slope - 1.0).abs() < 1e-6, "{} {}", small.slope, whole.slope);
    }

    fn sure(share: f64, precharge: f64) -> [f64; 5] {
        let known = Uncertain::exact;
        let found = Evidence {
            volume: known(1.0),
            drawdown: known(share),
            precharge: known(precharge),
            cut_in: known(40.0 * PSI),
            cut_out: known(60.0 * PSI),
        };
        JointEvidence::new(&found, sea_level()).unwrap().shares(0.0).unwrap()
    }

    const LOGGED: [f64; 5] = [1.0, 0.0, 0.0, 0.0, 0.0];
    const IS_LOW: [f64; 5] = [0.0, 1.0, 0.0, 0.0, 0.0];
    const RIGHT: [f64; 5] = [0.0, 0.0, 1.0, 0.0, 0.0];
    const HIGH: [f64; 5] = [0.0, 0.0, 0.0, 1.0, 0.0];
    const WRONG: [f64; 5] = [0.0, 0.0, 0.0, 0.0, 1.0];

    /// Where nothing is uncertain each finding ends at its limit, the limit itself on the lower side.
    #[test]
    fn findings_end_where_their_limits_are() {
        let foretold = |precharge: f64| drawdown(1.0, precharge, 40.0 * PSI, 60.0 * PSI, 0.0).unwrap();
        let (at, low) = (40.0 * PSI, 40.0 * PSI - 7.0 * PSI);
        let classes = [
            (at, RIGHT),
            (at.next_up(), HIGH),
            (50.0 * PSI, HIGH),
            (low, RIGHT),
            (low - 1e-6, IS_LOW),
            (10.0 * PSI, IS_LOW),
        ];
        for (precharge, expected) in classes {
            let (water, reach) = (foretold(precharge), 0.1 * foretold(precharge) + 0.005);
            assert_eq!(sure(water, precharge), expected, "{precharge}");
            assert_eq!(sure(water + reach, precharge), expected, "{precharge}");
            assert_eq!(sure((water + reach).next_up(), precharge), WRONG, "{precharge}");
            assert_eq!(sure((water - reach).max(0.0) + 1e-12, precharge), expected, "{precharge}");
        }
        assert_eq!(sure(foretold(38.0 * PSI) * 0.9 - 0.005 - 1e-12, 38.0 * PSI), WRONG);
        // As little as a precharge of 2 psi gives is waterlogged, unless that very precharge is read above
        // it.
        let little = foretold(2.0 * PSI);
        assert_eq!([sure(little, at), sure(little.next_up(), at), sure(0.0, at)], [LOGGED, WRONG, LOGGED]);
        assert_eq!(
            [sure(little, 2.0 * PSI - 1.0), sure(little.next_up(), 2.0 * PSI - 1.0)],
            [LOGGED, IS_LOW]
        );
        assert_eq!([sure(little, 2.0 * PSI + 1.0), sure(little * 0.89 - 0.005, 2.5 * PSI)], [IS_LOW, LOGGED]);
    }

    /// A precharge off by `z` moves its class and the water foretold, and the water measured as far as both
    /// share an uncertainty; the rest is the normal distribution.
    #[test]
    fn a_charge_off_by_so_much_is_judged_where_it_then_lies() {
        let joint = JointEvidence::new(&doubted(11.2, 38.0, 1.0), sea_level()).unwrap();
        for z in [-6.0, -4.0, -1.0, 0.0, 1.0, 1.5, 3.0] {
            let precharge = 38.0 * PSI + z * joint.u_above;
            let foretold = (water_held(1.0, precharge, 60.0 * PSI, 0.0).unwrap())
                - water_held(1.0, precharge, 40.0 * PSI, 0.0).unwrap();
            let reach = 0.1 * foretold + 0.005;
            let mean = 11.2 / 44.0 + joint.slope * z * joint.u_above;
            let below = |limit: f64| normal_below((limit - mean) / joint.u_given);
            let agree = below(foretold + reach) - below(foretold - reach);
            let logged = below(joint.waterlogged);
            let class = if precharge > 40.0 * PSI {
                3
            } else if precharge >= 33.0 * PSI {
                2
            } else {
                1
            };
            let mut expected = [logged, 0.0, 0.0, 0.0, 1.0 - agree - logged];
            expected[class] = agree;
            let found = joint.shares(z).unwrap();
            assert!(
                found.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9),
                "{z}: {found:?} {expected:?}"
            );
        }
    }
}
