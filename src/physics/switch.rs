//! The pressure switch's adjusters: learn what a turn does, and advise the next turn.
//!
//! The range adjuster moves cut-in and cut-out together, the differential adjuster the cut-out
//! alone; a turn is worth 2 to 3 psi (common practice). Each adjust-and-measure pair refines
//! that for the switch at hand. Turn only with the power off and proven; count the turns;
//! a new cut-in needs a new precharge.

use super::limits::{GAUGE_PRESSURE, LOSS, TURNS};
use super::out_of_range::{in_order, pressure};
use super::{FormulaResult, MessagePart, OutOfRange};
use crate::quantity::{Measure, PSI};

/// What a turn does before anything is learned: 2 to 3 psi (common practice).
const USUAL: Rate = Rate { value: 2.5 * PSI, u: 0.5 * PSI };
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

/// One adjustment and what it did. Turns clockwise count above zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Adjustment {
    /// Turns of the range adjuster.
    pub range_turns: f64,
    /// Turns of the differential adjuster.
    pub differential_turns: f64,
    /// Measured before.
    pub before: SwitchPoints,
    /// Measured after.
    pub after: SwitchPoints,
}

/// What a turn is worth; Pa a turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rate {
    /// Best estimate.
    pub value: f64,
    /// Standard uncertainty.
    pub u: f64,
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
    /// Standard uncertainty of the expected cut-out, from what a turn is worth; Pa.
    pub cut_out_u: f64,
    /// Whether more turns will be needed after measuring again.
    pub held_back: bool,
}

/// What a turn is worth, from common practice and what was measured.
///
/// Least squares of `Δcut_in = range × turns` and `Δcut_out = range × turns + differential ×
/// turns'`, each with standard uncertainty `difference_u`, together with 2.5 psi a turn (standard
/// uncertainty 0.5 psi) for either beforehand.
///
/// Units: Pa, turns to Pa a turn. Range: turns −20 to 20, `difference_u` 0.1 Pa to 1 bar. Source:
/// linear least squares with a prior (textbook); the prior is common practice.
///
/// ```
/// use tankhand::physics::{Adjustment, SwitchPoints, learn_adjusters};
/// let psi = 6894.757;
/// let points = |cut_in, cut_out| SwitchPoints { cut_in: cut_in * psi, cut_out: cut_out * psi };
/// let pair = Adjustment {
///     range_turns: 2.0,
///     differential_turns: 0.0,
///     before: points(30.0, 50.0),
///     after: points(36.0, 56.0),
/// };
/// let learned = learn_adjusters(&[pair], 0.3 * psi).unwrap();
/// assert!((learned.range.value / psi - 2.98).abs() < 0.01); // 3 psi a turn, almost
/// assert!((learned.differential.value / psi - 2.5).abs() < 0.02); // nothing learned yet
/// ```
pub fn learn_adjusters(adjustments: &[Adjustment], difference_u: f64) -> FormulaResult<Adjusters> {
    LOSS.check("the uncertainty of a difference", &difference_u)?;
    let prior = 1.0 / (USUAL.u * USUAL.u);
    let weight = 1.0 / (difference_u * difference_u);
    // The normal equations: [a b; b d] (range, differential) = (p, q).
    let (mut a, mut b, mut d) = (prior, 0.0, prior);
    let (mut p, mut q) = (prior * USUAL.value, prior * USUAL.value);
    for adjustment in adjustments {
        check_adjustment(adjustment)?;
        let (r, t) = (adjustment.range_turns, adjustment.differential_turns);
        let up_in = adjustment.after.cut_in - adjustment.before.cut_in;
        let up_out = adjustment.after.cut_out - adjustment.before.cut_out;
        a += weight * 2.0 * r * r;
        b += weight * r * t;
        d += weight * t * t;
        p += weight * r * (up_in + up_out);
        q += weight * t * up_out;
    }
    let determinant = a * d - b * b;
    Ok(Adjusters {
        range: Rate { value: (p * d - q * b) / determinant, u: (d / determinant).sqrt() },
        differential: Rate { value: (q * a - p * b) / determinant, u: (a / determinant).sqrt() },
    })
}

fn check_adjustment(adjustment: &Adjustment) -> FormulaResult<()> {
    TURNS.check("the turns of the range adjuster", &adjustment.range_turns)?;
    TURNS.check("the turns of the differential adjuster", &adjustment.differential_turns)?;
    check_points(&adjustment.before)?;
    check_points(&adjustment.after)
}

fn check_points(points: &SwitchPoints) -> FormulaResult<()> {
    GAUGE_PRESSURE.check("the cut-in", &points.cut_in)?;
    GAUGE_PRESSURE.check("the cut-out", &points.cut_out)?;
    in_order(&points.cut_in, &points.cut_out)
}

/// The turns to make next, from where the switch is to where it should be.
///
/// `range = Δcut_in / range rate`, `differential = (Δcut_out − Δcut_in) / differential rate`, in
/// quarter turns, at most two at a time, and fewer where the cut-out might pass the `highest_cut_out`.
///
/// Units: Pa to turns, clockwise above zero. Range: a wanted cut-out at most the `highest_cut_out` (the
/// lowest of plate, relief valve and local code), adjusters worth at least 0.5 psi a turn.
/// Source: arithmetic; two turns at a time is common practice.
///
/// ```
/// use tankhand::physics::{SwitchPoints, learn_adjusters, next_turns};
/// let psi = 6894.757;
/// let points = |cut_in, cut_out| SwitchPoints { cut_in: cut_in * psi, cut_out: cut_out * psi };
/// let usual = learn_adjusters(&[], 0.3 * psi).unwrap();
/// let next = next_turns(&usual, points(30.0, 50.0), points(40.0, 60.0), 75.0 * psi).unwrap();
/// assert_eq!((next.range, next.differential, next.held_back), (2.0, 0.0, true));
/// ```
pub fn next_turns(
    adjusters: &Adjusters,
    now: SwitchPoints,
    target: SwitchPoints,
    highest_cut_out: f64,
) -> FormulaResult<NextTurns> {
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
    let mut next = step(adjusters, &now, range * scale, differential * scale);
    while next.expected.cut_out > now.cut_out
        && next.expected.cut_out + 2.0 * next.cut_out_u > highest_cut_out
    {
        scale *= 0.5;
        next = step(adjusters, &now, range * scale, differential * scale);
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
fn step(adjusters: &Adjusters, now: &SwitchPoints, range: f64, differential: f64) -> NextTurns {
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
        expected: SwitchPoints { cut_in: now.cut_in + up_in, cut_out: now.cut_out + up_out },
        cut_out_u: (range * adjusters.range.u).hypot(differential * adjusters.differential.u),
        held_back: false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
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

    /// What is usual counts as one reading among those taken, each with the inverse of its variance: 4 per
    /// psi² for the usual rate, 25 for each of the two ends moved.
    #[test]
    fn a_turn_measured_is_weighed_with_what_is_usual() {
        let (before, after) = (psi(30.0, 50.0), psi(33.0, 53.0));
        let turn = Adjustment { range_turns: 1.0, differential_turns: 0.0, before, after };
        let learned = learn_adjusters(&[turn], 0.2 * PSI).unwrap();
        let found = [learned.range, learned.differential].map(|rate| [rate.value / PSI, rate.u / PSI]);
        let expected = [[(4.0 * 2.5 + 25.0 * 6.0) / 54.0, 54f64.sqrt().recip()], [2.5, 0.5]];
        let apart = found.iter().flatten().zip(expected.iter().flatten()).map(|(a, b)| (a - b).abs());
        assert!(apart.fold(0.0, f64::max) < 1e-9, "{found:?}");
    }

    proptest! {
        #[test]
        fn a_switch_is_learned_and_brought_home(r in 1.8f64..3.4, d in 1.8f64..3.4, target in 25.0f64..45.0) {
            let (mut now, target) = (psi(30.0, 50.0), psi(target, target + 24.0));
            let mut history = Vec::new();
            for _ in 0..6 {
                let adjusters = learn_adjusters(&history, 0.2 * PSI).unwrap();
                let next = next_turns(&adjusters, now, target, 75.0 * PSI).unwrap();
                let after = turned(now, (next.range, next.differential), (r, d));
                prop_assert!(after.cut_out <= 75.0 * PSI);
                history.push(Adjustment {
                    range_turns: next.range, differential_turns: next.differential, before: now, after,
                });
                now = after;
            }
            prop_assert!((now.cut_in - target.cut_in).abs() < 0.7 * PSI, "{now:?} {target:?}");
            prop_assert!((now.cut_out - target.cut_out).abs() < 1.2 * PSI, "{now:?} {target:?}");
        }

        #[test]
        fn measuring_narrows_the_doubt(r in 0.5f64..2.0, d in 0.5f64..2.0) {
            let before = psi(30.0, 50.0);
            let pair = Adjustment {
                range_turns: r, differential_turns: d, before, after: turned(before, (r, d), (3.0, 2.0)),
            };
            let usual = learn_adjusters(&[], 0.2 * PSI).unwrap();
            let learned = learn_adjusters(&[pair], 0.2 * PSI).unwrap();
            prop_assert!(learned.range.u < usual.range.u && learned.differential.u < usual.differential.u);
            prop_assert!(learned.range.value > usual.range.value);
            prop_assert!(learned.differential.value < usual.differential.value);
        }
    }

    #[test]
    fn the_ceiling_holds() {
        let usual = learn_adjusters(&[], 0.2 * PSI).unwrap();
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
        let idle = Adjustment {
            range_turns: 2.0,
            differential_turns: 0.0,
            before: psi(30.0, 50.0),
            after: psi(30.0, 50.0),
        };
        let learned = learn_adjusters(&[idle; 3], 0.2 * PSI).unwrap();
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
