//! The pressure switch's adjusters: which turns to make next.
//!
//! The range adjuster moves cut-in and cut-out together, the differential adjuster the cut-out
//! alone; a turn is worth 2 to 3 psi (common practice). Each adjust-and-measure pair refines
//! that for the switch at hand. Turn only with the power off and proven; count the turns;
//! a new cut-in needs a new precharge.

use super::limits::GAUGE_PRESSURE;
use super::out_of_range::{in_order, pressure};
use super::{FormulaResult, MessagePart, OutOfRange};
use crate::quantity::{Measure, PSI};

/// The most turns to advise before measuring again (common practice: after every one or two).
const MOST_TURNS: f64 = 2.0;
/// Turns are advised in quarters.
const QUARTER: f64 = 0.25;

/// Where a pump starts and stops; gauge pressures, Pa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SwitchPoints {
    /// Where the pump starts.
    pub cut_in: f64,
    /// Where it stops.
    pub cut_out: f64,
}

/// What a turn is worth; Pa a turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rate {
    /// Best estimate.
    pub value: f64,
    /// Standard uncertainty.
    pub u: f64,
    /// How well that is known, as degrees of freedom; none where it is common practice alone.
    pub degrees: Option<usize>,
}

/// Where a switch acts now, by the last reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ActsAt {
    /// The points.
    pub points: SwitchPoints,
    /// Standard uncertainty of where the cut-out lies below its limit, with its scatter; Pa.
    pub cut_out_u: f64,
}

impl From<SwitchPoints> for ActsAt {
    /// Points that are known exactly.
    fn from(points: SwitchPoints) -> ActsAt {
        ActsAt { points, cut_out_u: 0.0 }
    }
}

/// What a turn of either adjuster is worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Adjusters {
    /// The range adjuster: cut-in and cut-out alike.
    pub range: Rate,
    /// The differential adjuster: the cut-out.
    pub differential: Rate,
}

/// The next turns to make and what they should bring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NextTurns {
    /// Turns of the range adjuster, in quarters.
    pub range: f64,
    /// Turns of the differential adjuster, in quarters.
    pub differential: f64,
    /// The points to expect after them.
    pub expected: SwitchPoints,
    /// Standard uncertainty of the expected cut-out, from where it is now and what a turn is worth; Pa.
    pub cut_out_u: f64,
    /// Whether more turns will be needed after measuring again.
    pub held_back: bool,
}

pub(super) fn check_points(points: &SwitchPoints) -> FormulaResult<()> {
    GAUGE_PRESSURE.check("the cut-in", &points.cut_in)?;
    GAUGE_PRESSURE.check("the cut-out", &points.cut_out)?;
    in_order(&points.cut_in, &points.cut_out)
}

formula!(NEXT_TURNS:
    "The turns of each adjuster to make next.",
    "range: (target_cut_in - cut_in) / range_worth; differential: (wanted difference - difference) / differential_worth; both held back",
    range "a wanted cut-out at most the highest, adjusters worth 0.5 to 20 psi a turn",
    source "arithmetic; two turns at a time is common practice"
);

#[doc = NEXT_TURNS!()]
///
/// In quarter turns, at most two at a time, and fewer where the cut-out might pass the `highest_cut_out`:
/// the lowest of plate, relief valve and local code.
///
/// Units: Pa to turns, clockwise above zero.
///
/// ```
/// use tankhand::physics::{SwitchPoints, learn_adjusters, next_turns};
/// let psi = 6894.757;
/// let points = |cut_in, cut_out| SwitchPoints { cut_in: cut_in * psi, cut_out: cut_out * psi };
/// let usual = learn_adjusters(&[], &[], 0.3 * psi).unwrap();
/// let next = next_turns(&usual, points(30.0, 50.0), points(40.0, 60.0), 75.0 * psi).unwrap();
/// assert_eq!((next.range, next.differential, next.held_back), (2.0, 0.0, true));
/// ```
pub fn next_turns(
    adjusters: &Adjusters,
    now: impl Into<ActsAt>,
    target: SwitchPoints,
    highest_cut_out: f64,
) -> FormulaResult<NextTurns> {
    let at: ActsAt = now.into();
    let now = at.points;
    super::flush::not_negative("the uncertainty of the cut-out", at.cut_out_u)?;
    check_points(&now)?;
    check_points(&target)?;
    GAUGE_PRESSURE.check("the highest cut-out allowed", &highest_cut_out)?;
    check_rate("the range adjuster", &adjusters.range)?;
    check_rate("the differential adjuster", &adjusters.differential)?;
    if target.cut_out > highest_cut_out {
        return Err(OutOfRange::new(
            "the cut-out wanted, {}, is above the highest allowed here, {}",
            &[pressure(&target.cut_out), pressure(&highest_cut_out)],
            "the plate of the tank, the relief valve and local code, whichever is lowest",
        ));
    }
    let (up_in, up_out) = (target.cut_in - now.cut_in, target.cut_out - now.cut_out);
    let range = up_in / adjusters.range.value;
    let differential = (up_out - up_in) / adjusters.differential.value;
    let most = range.abs().max(differential.abs());
    let mut scale = if most > MOST_TURNS { MOST_TURNS / most } else { 1.0 };
    let mut next = step(adjusters, &at, range * scale, differential * scale);
    while next.expected.cut_out > now.cut_out
        && next.expected.cut_out + 2.0 * next.cut_out_u > highest_cut_out
    {
        scale *= 0.5;
        next = step(adjusters, &at, range * scale, differential * scale);
    }
    Ok(NextTurns { held_back: scale < 1.0, ..next })
}

fn check_rate(name: &'static str, rate: &Rate) -> FormulaResult<()> {
    if (0.5 * PSI..=20.0 * PSI).contains(&rate.value) && rate.u.is_finite() {
        return Ok(());
    }
    Err(OutOfRange::new(
        "a turn of {} seems to be worth {}, so no turn can be advised: was it the right one, turned as told?",
        &[MessagePart::Words(name), MessagePart::Value(Measure::PressureChange, rate.value)],
        "a turn clockwise is worth 2 to 3 psi, common practice",
    ))
}

/// What turns, rounded toward none in quarters, should bring.
fn step(adjusters: &Adjusters, at: &ActsAt, range: f64, differential: f64) -> NextTurns {
    let quarters = |turns: f64| {
        let rounded = (turns.abs() / QUARTER).round() * QUARTER;
        if rounded == 0.0 { 0.0 } else { rounded.copysign(turns) }
    };
    let (range, differential) = (quarters(range), quarters(differential));
    let up_in = range * adjusters.range.value;
    let up_out = up_in + differential * adjusters.differential.value;
    NextTurns {
        range,
        differential,
        expected: SwitchPoints { cut_in: at.points.cut_in + up_in, cut_out: at.points.cut_out + up_out },
        cut_out_u: (range * adjusters.range.u)
            .hypot(differential * adjusters.differential.u)
            .hypot(at.cut_out_u),
        held_back: false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::{Turns, learn_adjusters};
    use proptest::prelude::*;

    fn psi(cut_in: f64, cut_out: f64) -> SwitchPoints {
        SwitchPoints { cut_in: cut_in * PSI, cut_out: cut_out * PSI }
    }

    /// What a switch with the given psi a turn does.
    fn turned(now: SwitchPoints, turns: (f64, f64), rates: (f64, f64)) -> SwitchPoints {
        let up_in = turns.0 * rates.0 * PSI;
        let up_out = up_in + turns.1 * rates.1 * PSI;
        SwitchPoints { cut_in: now.cut_in + up_in, cut_out: now.cut_out + up_out }
    }

    proptest! {
        #[test]
        fn a_switch_is_learned_and_brought_home(r in 1.8f64..3.4, d in 1.8f64..3.4, target in 25.0f64..45.0) {
            let (mut now, target) = (psi(30.0, 50.0), psi(target, target + 24.0));
            let (mut points, mut made) = (vec![now], Vec::new());
            for _ in 0..6 {
                let adjusters = learn_adjusters(&points, &made, 0.1 * PSI).unwrap();
                let next = next_turns(&adjusters, now, target, 75.0 * PSI).unwrap();
                let after = turned(now, (next.range, next.differential), (r, d));
                prop_assert!(after.cut_out <= 75.0 * PSI);
                made.push(Turns { range: next.range, differential: next.differential });
                points.push(after);
                now = after;
            }
            prop_assert!((now.cut_in - target.cut_in).abs() < 0.7 * PSI, "{now:?} {target:?}");
            prop_assert!((now.cut_out - target.cut_out).abs() < 1.2 * PSI, "{now:?} {target:?}");
        }

        #[test]
        fn measuring_narrows_the_doubt(r in 0.5f64..1.0, d in 1.5f64..2.0) {
            let before = psi(30.0, 50.0);
            let points = [before, turned(before, (r, d), (3.0, 2.0))];
            let usual = learn_adjusters(&[], &[], 0.2 * PSI).unwrap();
            let learned = learn_adjusters(&points, &[Turns { range: r, differential: d }], 0.2 * PSI).unwrap();
            prop_assert!(learned.range.u < usual.range.u && learned.differential.u < usual.differential.u);
            prop_assert!(learned.range.value > usual.range.value);
            prop_assert!(learned.differential.value < usual.differential.value);
        }
    }

    #[test]
    fn the_ceiling_holds() {
        let usual = learn_adjusters(&[], &[], 0.2 * PSI).unwrap();
        let fault = next_turns(&usual, psi(40.0, 60.0), psi(60.0, 80.0), 75.0 * PSI).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "the cut-out wanted, 80 psi, is above the highest allowed here, 75 psi \
             (the plate of the tank, the relief valve and local code, whichever is lowest)"
        );
        // The best estimate would just do, but the turn may be worth more than it seems.
        let next = next_turns(&usual, psi(55.0, 74.0), psi(56.0, 75.0), 75.0 * PSI).unwrap();
        assert_eq!((next.range, next.differential, next.held_back), (0.25, 0.0, true));
    }

    #[test]
    fn an_adjuster_that_does_nothing_is_told() {
        let turns = [Turns { range: 2.0, differential: 0.0 }; 3];
        let learned = learn_adjusters(&[psi(30.0, 50.0); 4], &turns, 0.2 * PSI).unwrap();
        let fault = next_turns(&learned, psi(30.0, 50.0), psi(40.0, 60.0), 75.0 * PSI).unwrap_err();
        assert_eq!(
            fault.to_string().split_once(", so").map(|(_, rest)| rest),
            Some(
                " no turn can be advised: was it the right one, turned as told? \
             (a turn clockwise is worth 2 to 3 psi, common practice)"
            )
        );
        assert!(learned.range.value < 0.1 * PSI);
    }
}
