//! How many dumps are still to go: a decay fitted to the settled solids of each dump.

use super::flush::not_negative;
use super::{Checked, OutOfRange, Slot, one_sided_of_few};
use crate::quantity::Measure;

/// The fitted decay, and how many dumps it says are still to come.
#[derive(Clone, Debug, PartialEq)]
pub struct DumpsToGo {
    /// Dumps still to go until the fit is down to the floor; zero when it is there.
    pub estimate: f64,
    /// Standard uncertainty of the estimate, from the scatter about the fit.
    pub standard_uncertainty: f64,
    /// Readings less the two numbers fitted: with few, the scatter itself is poorly known.
    pub degrees_of_freedom: usize,
    /// What one dump leaves of the solids, as a fraction of what the one before brought.
    pub left_per_dump: f64,
    /// What the fit says the first dump brought, in the unit of the readings.
    pub first: f64,
}

impl DumpsToGo {
    /// The interval that holds the true figure at about 95 %, never below zero.
    ///
    /// Uses Student's t for the degrees of freedom (JCGM 100:2008, G.3.2).
    ///
    /// ```
    /// use tankhand::physics::dumps_to_go;
    /// let fit = dumps_to_go(&[8.0, 4.1, 2.0, 1.02], 0.1).unwrap();
    /// let (least, most) = fit.interval();
    /// assert!(least < fit.estimate && fit.estimate < most);
    /// ```
    pub fn interval(&self) -> (f64, f64) {
        let factor = one_sided_of_few(0.975, self.degrees_of_freedom).unwrap_or(12.71);
        let reach = factor * self.standard_uncertainty;
        ((self.estimate - reach).max(0.0), self.estimate + reach)
    }
}

/// Fits a decay to the solids of each dump and says how many dumps remain until `floor`.
///
/// Least squares of `ln y = a + b i` over the dumps `i = 1, 2, …` with solids above zero; then
/// `i* = (ln floor − a) / b`, less the dumps made. The uncertainty is first order, from the
/// scatter about the line (JCGM 100:2008, 5.1 and H.3).
///
/// Units: all values and `floor` alike. Range: at least 3 readings above zero, falling; floor
/// above zero. Source: each dump of a mixed tank leaves a share of what was there (textbook
/// dilution); that sediment follows it is a judgement.
///
/// ```
/// use tankhand::physics::dumps_to_go;
/// let fit = dumps_to_go(&[8.0, 4.0, 2.0], 0.25).unwrap();
/// assert!((fit.estimate - 3.0).abs() < 1e-9 && (fit.left_per_dump - 0.5).abs() < 1e-9);
/// ```
pub fn dumps_to_go(solids: &[f64], floor: f64) -> Checked<DumpsToGo> {
    not_negative("the floor of the reading", floor)?;
    for value in solids {
        not_negative("a reading", *value)?;
    }
    let points: Vec<(f64, f64)> =
        solids.iter().zip(1..).filter(|(y, _)| **y > 0.0).map(|(y, i)| (f64::from(i), y.ln())).collect();
    if floor == 0.0 {
        return Err(OutOfRange::new(
            "the floor of the reading is zero, which a decay never reaches",
            &[],
            "the logarithm of zero does not exist; take the least amount that can be read",
        ));
    }
    if points.len() < 3 {
        return Err(OutOfRange::new(
            "a decay needs at least 3 readings above zero, and {} of them are",
            &[Slot::Value(Measure::Count, points.len() as f64)],
            "two points fix a line and leave nothing to judge it by",
        ));
    }
    let line = Line::through(&points);
    if line.slope >= -1e-9 {
        return Err(OutOfRange::new(
            "the solids are not falling from dump to dump (one leaves {} of the one before), \
             so there is no end to tell",
            &[Slot::Value(Measure::Number, line.slope.exp().min(1e9))],
            "a well that brings sand feeds the tank anew",
        ));
    }
    let end = (floor.ln() - line.intercept) / line.slope;
    let fit = DumpsToGo {
        estimate: (end - solids.len() as f64).max(0.0),
        standard_uncertainty: line.uncertainty_of_crossing(end),
        degrees_of_freedom: points.len() - 2,
        left_per_dump: line.slope.exp(),
        first: (line.intercept + line.slope).exp(),
    };
    if [fit.estimate, fit.standard_uncertainty, fit.first].iter().all(|number| number.is_finite()) {
        return Ok(fit);
    }
    Err(OutOfRange::new(
        "the readings, up to {}, are too far apart to be of one decay",
        &[Slot::Value(Measure::Number, solids.iter().copied().fold(0.0, f64::max))],
        "the fitted numbers are too large to be written",
    ))
}

/// A straight line by least squares, with what its uncertainty needs.
struct Line {
    intercept: f64,
    slope: f64,
    mean_x: f64,
    spread_x: f64,
    n: f64,
    /// Variance of one point about the line.
    variance: f64,
}

impl Line {
    fn through(points: &[(f64, f64)]) -> Line {
        let n = points.len() as f64;
        let mean_x = points.iter().map(|p| p.0).sum::<f64>() / n;
        let mean_y = points.iter().map(|p| p.1).sum::<f64>() / n;
        let spread_x = points.iter().map(|p| (p.0 - mean_x).powi(2)).sum::<f64>();
        let slope = points.iter().map(|p| (p.0 - mean_x) * (p.1 - mean_y)).sum::<f64>() / spread_x;
        let intercept = mean_y - slope * mean_x;
        let rest = points.iter().map(|p| (p.1 - intercept - slope * p.0).powi(2)).sum::<f64>();
        Line { intercept, slope, mean_x, spread_x, n, variance: rest / (n - 2.0) }
    }

    /// Standard uncertainty of the place `x` where the line crosses a given height.
    fn uncertainty_of_crossing(&self, x: f64) -> f64 {
        let of_height = self.variance * (1.0 / self.n + (x - self.mean_x).powi(2) / self.spread_x);
        of_height.sqrt() / self.slope.abs()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_true_decay_is_found_again(first in 1.0f64..100.0, left in 0.1f64..0.9, n in 3usize..9) {
            let solids: Vec<f64> = (0..n).map(|i| first * left.powi(i as i32)).collect();
            let floor = first * left.powi(n as i32 + 4);
            let fit = dumps_to_go(&solids, floor).unwrap();
            prop_assert!((fit.estimate - 5.0).abs() < 1e-6);
            prop_assert!((fit.left_per_dump - left).abs() < 1e-9 && (fit.first / first - 1.0).abs() < 1e-9);
            prop_assert!(fit.standard_uncertainty < 1e-5);
            let below = dumps_to_go(&solids, first).unwrap();
            prop_assert_eq!(below.estimate, 0.0);
        }

        #[test]
        fn the_uncertainty_is_the_first_order_one(noise in proptest::collection::vec(-0.05f64..0.05, 5)) {
            // The delta method on the fitted pair, worked out by numerical derivative.
            let solids: Vec<f64> = noise.iter().enumerate()
                .map(|(i, e)| (3.0 - 0.5 * i as f64 + e).exp()).collect();
            let fit = dumps_to_go(&solids, 0.1).unwrap();
            let points: Vec<(f64, f64)> =
                solids.iter().enumerate().map(|(i, y)| (i as f64 + 1.0, y.ln())).collect();
            let s = Line::through(&points).variance.sqrt();
            let mut sum = 0.0;
            for i in 0..5 {
                let moved = |h: f64| {
                    let mut other = solids.clone();
                    other[i] *= h.exp();
                    dumps_to_go(&other, 0.1).unwrap().estimate
                };
                sum += (s * (moved(1e-5) - moved(-1e-5)) / 2e-5).powi(2);
            }
            prop_assert!((fit.standard_uncertainty - sum.sqrt()).abs() < 1e-6 * (1.0 + sum.sqrt()));
        }
    }

    #[test]
    fn too_few_and_not_falling_are_told() {
        assert_eq!(
            dumps_to_go(&[5.0, 0.0, 2.0], 0.1).unwrap_err().to_string(),
            "a decay needs at least 3 readings above zero, and 2 of them are \
             (two points fix a line and leave nothing to judge it by)"
        );
        assert_eq!(
            dumps_to_go(&[1.0, 2.0, 4.0], 0.1).unwrap_err().to_string(),
            "the solids are not falling from dump to dump (one leaves 2 of the one before), \
             so there is no end to tell \
             (a well that brings sand feeds the tank anew)"
        );
        assert_eq!(
            dumps_to_go(&[4.0, 2.0, 1.0], 0.0).unwrap_err().to_string(),
            "the floor of the reading is zero, which a decay never reaches \
             (the logarithm of zero does not exist; take the least amount that can be read)"
        );
        assert!(dumps_to_go(&[1.0, f64::NAN, 0.5, 0.2], 0.1).is_err());
    }

    #[test]
    fn zero_readings_keep_their_place_in_the_count() {
        let fit = dumps_to_go(&[8.0, 4.0, 2.0, 0.0], 0.25).unwrap();
        assert!((fit.estimate - 2.0).abs() < 1e-9 && fit.degrees_of_freedom == 1);
    }
}
