//! Several tanks on one line, each with its own volume, precharge and height.

use super::atmosphere::{absolute_of, atmosphere};
use super::limits::VOLUME;
use super::out_of_range::in_order;
use super::{FormulaResult, OutOfRange, head, pressure_at, water_held};
use crate::quantity::Scalar;

/// One tank of several.
#[derive(Clone, Debug, PartialEq)]
pub struct TankAtHeight<S> {
    /// Volume of the shell; m³.
    pub volume: S,
    /// Precharge; Pa.
    pub precharge: S,
    /// Height of the tank above the switch, negative below it; m.
    pub above: S,
}

formula!(DEAD_GAP_OF_ALL:
    "How far the pressure at the switch falls away, every tank empty, before the pump starts.",
    "the lowest precharge, brought to the height of the switch, less the cut-in; at least nothing",
    range "at least one tank; as drawdown",
    source "a bladder tank holds no water below its precharge; hydrostatics"
);

/// What several tanks give together.
#[derive(Clone, Debug, PartialEq)]
pub struct Shares<S> {
    /// The drawdown of all; m³.
    pub total: S,
    /// The drawdown of each, in their order; m³.
    pub each: Vec<S>,
    #[doc = DEAD_GAP_OF_ALL!()]
    ///
    /// Units: Pa.
    pub dead_gap: S,
}

formula!(DRAWDOWN_OF_ALL:
    "The water that several tanks on one line give together.",
    "the sum of drawdown(…) of each, at its own height",
    range "at least one tank; as drawdown",
    source "Boyle's law; hydrostatics"
);

#[doc = DRAWDOWN_OF_ALL!()]
///
/// Cut-in and cut-out are as they are at each tank ([`pressure_at`]). A tank whose precharge lies above the
/// cut-in at its height is empty early while the others still give; the pressure collapses only when all
/// are empty.
///
/// Units: m³, Pa, m to m³.
///
/// ```
/// use tankhand::physics::{TankAtHeight, several_tanks};
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let tank = |volume| TankAtHeight { volume: volume * gal, precharge: 38.0 * psi, above: 0.0 };
/// let both = several_tanks(&[tank(44.0), tank(20.0)], 40.0 * psi, 60.0 * psi, 0.0).unwrap();
/// assert!((both.total / gal - 16.51).abs() < 0.002);
/// ```
pub fn several_tanks<S: Scalar>(
    tanks: &[TankAtHeight<S>],
    cut_in: S,
    cut_out: S,
    elevation: S,
) -> FormulaResult<Shares<S>> {
    in_order(&cut_in, &cut_out)?;
    let mut each = Vec::with_capacity(tanks.len());
    let mut total = S::from(0.0);
    let mut empty_at: Option<S> = None;
    for tank in tanks {
        let share = share_of(tank, &cut_in, &cut_out, &elevation)?;
        total = total + share.clone();
        each.push(share);
        let at_switch = tank.precharge.clone() + head(tank.above.clone())?;
        empty_at = Some(match empty_at {
            Some(lowest) => lowest.min(at_switch),
            None => at_switch,
        });
    }
    let Some(empty_at) = empty_at else {
        return Err(OutOfRange::new("there is no tank to reckon with", &[], "a drawdown needs a tank"));
    };
    // Above the cut-out no tank takes water, and the pressure falls from there.
    let gap = empty_at.min(cut_out) - cut_in;
    Ok(Shares { total, each, dead_gap: gap.max(S::from(0.0)) })
}

fn share_of<S: Scalar>(tank: &TankAtHeight<S>, cut_in: &S, cut_out: &S, elevation: &S) -> FormulaResult<S> {
    VOLUME.check("the tank's volume", &tank.volume)?;
    let air = atmosphere(elevation.clone())?;
    absolute_of("the precharge", tank.precharge.clone(), &air)?;
    let held = |at_switch: &S| {
        let at_tank = pressure_at(at_switch.clone(), tank.above.clone())?;
        water_held(tank.volume.clone(), tank.precharge.clone(), at_tank, elevation.clone())
    };
    Ok(held(cut_out)? - held(cut_in)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::drawdown;
    use proptest::prelude::*;

    fn tank() -> impl Strategy<Value = TankAtHeight<f64>> {
        (0.02f64..0.5, 50e3f64..350e3, -8.0f64..8.0).prop_map(|(volume, precharge, above)| TankAtHeight {
            volume,
            precharge,
            above,
        })
    }

    proptest! {
        #[test]
        fn shares_add_up_and_level_tanks_are_single_ones(tanks in proptest::collection::vec(tank(), 1..5)) {
            let (on, off) = (276e3, 414e3);
            let shares = several_tanks(&tanks, on, off, 300.0).unwrap();
            prop_assert!((shares.each.iter().sum::<f64>() - shares.total).abs() < 1e-12);
            for (tank, share) in tanks.iter().zip(&shares.each) {
                let h = head(tank.above).unwrap();
                let alone = drawdown(tank.volume, tank.precharge, on - h, off - h, 300.0).unwrap();
                prop_assert!((alone - share).abs() < 1e-12);
            }
            let all_empty = tanks.iter().all(|t| t.precharge + head(t.above).unwrap() > on);
            prop_assert_eq!(shares.dead_gap > 0.0, all_empty);
        }
    }

    #[test]
    fn the_pressure_collapses_only_when_all_are_empty() {
        let tank = |precharge| TankAtHeight { volume: 0.1, precharge, above: 0.0 };
        let gap = |tanks: &[TankAtHeight<f64>]| several_tanks(tanks, 276e3, 414e3, 0.0).unwrap().dead_gap;
        assert_eq!(gap(&[tank(300e3), tank(262e3)]), 0.0);
        assert_eq!(gap(&[tank(300e3), tank(290e3)]), 14e3);
        assert_eq!(gap(&[tank(500e3)]), 138e3);
        assert_eq!(
            several_tanks::<f64>(&[], 276e3, 414e3, 0.0).unwrap_err().to_string(),
            "there is no tank to reckon with \
             (a drawdown needs a tank)"
        );
    }
}
