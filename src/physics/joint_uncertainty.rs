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
