//! What a turn of a pressure switch's adjusters is worth: common practice, and what turning brought.

use super::limits::TURNS;
use super::scatter::joined_variance;
use super::switch::{Adjusters, Rate, SwitchPoints, check_points};
use super::{FormulaResult, OutOfRange};
use crate::quantity::PSI;

/// What a turn does before anything is learned: 2 to 3 psi (common practice).
const USUAL: Rate = Rate { value: 2.5 * PSI, u: 0.5 * PSI, degrees: None };

/// What was turned between two looks at the switch; clockwise counts above zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turns {
    /// Turns of the range adjuster.
    pub range: f64,
    /// Turns of the differential adjuster.
    pub differential: f64,
}

formula!(WORTH_OF_TURNS:
    "What a turn of each adjuster is worth, from common practice and what adjusting brought.",
    "cut_in = start + worth × turns, cut_out = stop + worth × turns + worth' × turns'; least squares with 2.5 psi (u 0.5 psi) beforehand",
    range "turns from -20 to 20, one point more than turns",
    source "linear least squares with a prior (textbook); the prior is common practice"
);

#[doc = WORTH_OF_TURNS!()]
///
/// Without points and turns it is common practice alone. How far the points lie from what fits best is
/// joined with how far switches commonly scatter, and Student's t belongs to it. `reading_u` is how well
/// one point is read, without what all readings share.
///
/// Units: Pa, turns to Pa a turn.
///
/// ```
/// use tankhand::physics::{SwitchPoints, Turns, learn_adjusters};
/// let psi = 6894.757;
/// let points = |cut_in, cut_out| SwitchPoints { cut_in: cut_in * psi, cut_out: cut_out * psi };
/// let turns = [Turns { range: 2.0, differential: 0.0 }];
/// let learned = learn_adjusters(&[points(30.0, 50.0), points(36.0, 56.0)], &turns, 0.1 * psi).unwrap();
/// assert!((learned.range.value / psi - 2.93).abs() < 0.01); // 3 psi a turn, almost
/// assert_eq!(learned.differential.degrees, None); // nothing learned yet
/// ```
pub fn learn_adjusters(points: &[SwitchPoints], turns: &[Turns], reading_u: f64) -> FormulaResult<Adjusters> {
    super::flush::not_negative("how well a point is read", reading_u)?;
    for made in turns {
        TURNS.check("the turns of the range adjuster", &made.range)?;
        TURNS.check("the turns of the differential adjuster", &made.differential)?;
    }
    points.iter().try_for_each(check_points)?;
    if points.is_empty() && turns.is_empty() {
        return Ok(Adjusters { range: USUAL, differential: USUAL });
    }
    if points.len() != turns.len() + 1 {
        return Err(OutOfRange::new("points and turns do not go together", &[], TOGETHER));
    }
    let rows = rows(points, turns);
    // How far points lie from what fits best decides how much they weigh beside common practice.
    let mut scatter = joined_variance(0.0, 0, reading_u);
    for _ in 0..3 {
        let (range, differential) = fitted(&rows, scatter.0);
        let off = |row: &SwitchLook| {
            let by_range = row.range * range.value;
            (row.cut_in - by_range).powi(2)
                + (row.cut_out - by_range - row.differential * differential.value).powi(2)
        };
        let turned = rows.iter().any(|row| row.differential != 0.0);
        let degrees = (2 * points.len()).saturating_sub(3 + usize::from(turned));
        scatter = joined_variance(rows.iter().map(off).sum(), degrees, reading_u);
    }
    let (range, differential) = fitted(&rows, scatter.0);
    let known = |rate: Rate| Rate { degrees: degrees_of(&rate, scatter.1), ..rate };
    Ok(Adjusters { range: known(range), differential: known(differential) })
}

const TOGETHER: &str = "the switch is watched before the first turns and after each";

/// One look at the switch: turns so far and points, all from their middle.
struct SwitchLook {
    range: f64,
    differential: f64,
    cut_in: f64,
    cut_out: f64,
}

fn rows(points: &[SwitchPoints], turns: &[Turns]) -> Vec<SwitchLook> {
    let (mut range, mut differential) = (0.0, 0.0);
    let mut rows = Vec::with_capacity(points.len());
    for (at, point) in points.iter().enumerate() {
        rows.push(SwitchLook { range, differential, cut_in: point.cut_in, cut_out: point.cut_out });
        if let Some(made) = turns.get(at) {
            (range, differential) = (range + made.range, differential + made.differential);
        }
    }
    let n = rows.len() as f64;
    let middle = |of: fn(&SwitchLook) -> f64| rows.iter().map(of).sum::<f64>() / n;
    let [range, differential] = [middle(|row| row.range), middle(|row| row.differential)];
    let [cut_in, cut_out] = [middle(|row| row.cut_in), middle(|row| row.cut_out)];
    for row in &mut rows {
        (row.range, row.differential) = (row.range - range, row.differential - differential);
        (row.cut_in, row.cut_out) = (row.cut_in - cut_in, row.cut_out - cut_out);
    }
    rows
}

/// The worths that fit best, each point of a variance. The normal equations: `[a b; b d] (range,
/// differential) = (p, q)`.
fn fitted(rows: &[SwitchLook], variance: f64) -> (Rate, Rate) {
    let prior = 1.0 / (USUAL.u * USUAL.u);
    let (mut a, mut b, mut d) = (prior, 0.0, prior);
    let (mut p, mut q) = (prior * USUAL.value, prior * USUAL.value);
    for row in rows {
        let (r, t) = (row.range, row.differential);
        a += 2.0 * r * r / variance;
        b += r * t / variance;
        d += t * t / variance;
        p += r * (row.cut_in + row.cut_out) / variance;
        q += t * row.cut_out / variance;
    }
    let determinant = a * d - b * b;
    let rate =
        |value: f64, u: f64| Rate { value: value / determinant, u: (u / determinant).sqrt(), degrees: None };
    (rate(p * d - q * b, d), rate(q * a - p * b, a))
}

/// The effective degrees of freedom of a worth: what common practice alone tells is as sure as that is.
fn degrees_of(rate: &Rate, degrees: usize) -> Option<usize> {
    let learned = 1.0 - (rate.u / USUAL.u).powi(2);
    (learned > 0.05).then(|| (degrees as f64 / (learned * learned)) as usize)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn psi(cut_in: f64, cut_out: f64) -> SwitchPoints {
        SwitchPoints { cut_in: cut_in * PSI, cut_out: cut_out * PSI }
    }

    /// What is usual counts beside what was read, each with the inverse of its variance. Two points a turn
    /// apart lie half a turn from their middle: 2 × 2 × 1/4 for each 1/s².
    #[test]
    fn a_turn_measured_is_weighed_with_what_is_usual() {
        let turn = Turns { range: 1.0, differential: 0.0 };
        let learned = learn_adjusters(&[psi(30.0, 50.0), psi(33.0, 53.0)], &[turn], 0.2 * PSI).unwrap();
        // 4 of (0.4² + 0.2²) that are common, and the little that is left of two pairs, over 5.
        let mut variance: f64 = 0.2;
        for _ in 0..3 {
            let worth = (4.0 * 2.5 + 3.0 / variance) / (4.0 + 1.0 / variance);
            variance = (4.0 * 0.2 + (3.0 - worth).powi(2)) / 5.0;
        }
        let worth = (4.0 * 2.5 + 3.0 / variance) / (4.0 + 1.0 / variance);
        let found = [learned.range, learned.differential].map(|rate| [rate.value / PSI, rate.u / PSI]);
        let expected = [[worth, (4.0 + 1.0 / variance).sqrt().recip()], [2.5, 0.5]];
        let apart = found.iter().flatten().zip(expected.iter().flatten()).map(|(a, b)| (a - b).abs());
        assert!(apart.fold(0.0, f64::max) < 1e-9, "{found:?} {expected:?}");
    }

    #[test]
    fn points_that_scatter_widen_the_doubt() {
        let turns = [Turns { range: 1.0, differential: 0.0 }; 3];
        let learned = |off: f64| {
            let points = [psi(30.0, 50.0), psi(33.0 + off, 53.0), psi(36.0 - off, 56.0), psi(39.0, 59.0)];
            learn_adjusters(&points, &turns, 0.1 * PSI).unwrap().range
        };
        assert!(learned(1.5).u > 1.5 * learned(0.0).u, "{:?} {:?}", learned(1.5), learned(0.0));
    }

    #[test]
    fn points_that_do_not_go_with_the_turns_are_told() {
        let fault =
            learn_adjusters(&[psi(30.0, 50.0)], &[Turns { range: 1.0, differential: 0.0 }], 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "points and turns do not go together (the switch is watched before the first turns and after each)"
        );
    }
}
