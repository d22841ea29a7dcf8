//! How many dumps are still to go: a decay fitted to the settled solids of each dump.

use super::flush::not_negative;
use super::line::{FittedLine, WeightedPoint};
use super::{FormulaResult, MessagePart, OutOfRange, one_sided_of_few};
use crate::quantity::Measure;

/// The fitted decay, and how many dumps it says are still to come.
#[derive(Clone, Debug, PartialEq)]
pub struct FlushesToGo {
    /// Dumps still to go until the fit is down to the floor; zero when it is there.
    pub estimate: f64,
    /// Standard uncertainty of the estimate, from the scatter about the fit.
    pub standard_uncertainty: f64,
    /// Readings less the two numbers fitted: with few, the scatter itself is poorly known.
    pub degrees_of_freedom: usize,
    /// What one dump leaves of the solids, as a fraction of what the one before brought.
    pub left_per_flush: f64,
    /// What the fit says the first dump brought, in the unit of the readings.
    pub first: f64,
}

impl FlushesToGo {
    /// The interval that holds the true figure at about 95 %, never below zero.
    ///
    /// Uses Student's t for the degrees of freedom (JCGM 100:2008, G.3.2).
    ///
    /// ```
    /// use tankhand::physics::flushes_to_go;
    /// let fit = flushes_to_go(&[8.0, 4.1, 2.0, 1.02], 0.1).unwrap();
    /// let (least, most) = fit.interval();
    /// assert!(least < fit.estimate && fit.estimate < most);
    /// ```
    pub fn interval(&self) -> (f64, f64) {
        let factor = one_sided_of_few(0.975, self.degrees_of_freedom.max(1)).unwrap_or(f64::INFINITY);
        let reach = factor * self.standard_uncertainty;
        ((self.estimate - reach).max(0.0), self.estimate + reach)
    }
}

formula!(FLUSHES_TO_GO:
    "How many more rounds until the settled solids are down to the floor.",
    "ln y = a + b i by least squares; (ln floor - a) / b, less the rounds made",
    range "at least 3 readings above zero, falling; floor above zero",
    source "least squares (textbook): each round of a mixed tank leaves a share of what was there (textbook dilution), and that \
            sediment follows it is a judgement; uncertainty from the scatter about the line: JCGM 100:2008, 5.1 and H.3"
);

#[doc = FLUSHES_TO_GO!()]
///
/// Units: all values and `floor` alike.
///
/// ```
/// use tankhand::physics::flushes_to_go;
/// let fit = flushes_to_go(&[8.0, 4.0, 2.0], 0.25).unwrap();
/// assert!((fit.estimate - 3.0).abs() < 1e-9 && (fit.left_per_flush - 0.5).abs() < 1e-9);
/// ```
pub fn flushes_to_go(solids: &[f64], floor: f64) -> FormulaResult<FlushesToGo> {
    flushes_to_go_as_read(solids, &[], floor)
}

/// [`flushes_to_go`] with the standard uncertainty of each reading, such as a jar's graduation.
///
/// Readings may by chance lie nearer to a line than they can be read; the uncertainty is then
/// what reading alone brings about, to first order. Readings that `us` does not reach have none.
///
/// ```
/// use tankhand::physics::flushes_to_go_as_read;
/// let fit = flushes_to_go_as_read(&[8.0, 4.0, 2.0], &[0.3; 3], 0.25).unwrap();
/// assert!((fit.estimate - 3.0).abs() < 1e-9 && fit.standard_uncertainty > 0.3);
/// ```
pub fn flushes_to_go_as_read(solids: &[f64], us: &[f64], floor: f64) -> FormulaResult<FlushesToGo> {
    not_negative("the floor of the reading", floor)?;
    for value in solids {
        not_negative("a reading", *value)?;
    }
    for u in us {
        not_negative("the uncertainty of a reading", *u)?;
    }
    let points: Vec<WeightedPoint> =
        solids.iter().zip(1..).filter(|(y, _)| **y > 0.0).map(|(y, i)| (f64::from(i), y.ln(), 1.0)).collect();
    enough(&points, floor)?;
    let line = FittedLine::through(&points);
    if line.slope >= -1e-9 {
        return Err(OutOfRange::new(
            "the solids are not falling from dump to dump (one leaves {} of the one before), \
             so there is no end to tell",
            &[MessagePart::Value(Measure::Number, line.slope.exp().min(1e9))],
            "a well that brings sand feeds the tank anew",
        ));
    }
    let end = line.middle + (floor.ln() - line.level) / line.slope;
    let of_scatter = (line.scatter * line.leverage(end)).sqrt() / line.slope.abs();
    let relative = solids.iter().zip(us).zip(1..).filter(|((y, _), _)| **y > 0.0);
    let of_reading = relative
        .map(|((y, u), i)| u / y * pull(&line, end, f64::from(i)) / line.slope)
        .map(|part| part * part)
        .sum::<f64>()
        .sqrt();
    let fit = FlushesToGo {
        estimate: (end - solids.len() as f64).max(0.0),
        standard_uncertainty: of_scatter.max(of_reading),
        degrees_of_freedom: points.len() - 2,
        left_per_flush: line.slope.exp(),
        first: line.at(1.0).exp(),
    };
    if [fit.estimate, fit.standard_uncertainty, fit.first].iter().all(|number| number.is_finite()) {
        return Ok(fit);
    }
    Err(OutOfRange::new(
        "the readings, up to {}, are too far apart to be of one decay",
        &[MessagePart::Value(Measure::Number, solids.iter().copied().fold(0.0, f64::max))],
        "the fitted numbers are too large to be written",
    ))
}

/// How the line's value at `end` moves with the point at `place`.
fn pull(line: &FittedLine, end: f64, place: f64) -> f64 {
    1.0 / line.weight + (end - line.middle) * (place - line.middle) / line.spread
}

fn enough(points: &[WeightedPoint], floor: f64) -> FormulaResult<()> {
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
            &[MessagePart::Value(Measure::Count, points.len() as f64)],
            "two points fix a line and leave nothing to judge it by",
        ));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_true_decay_is_found_again(first in 1.0f64..100.0, left in 0.1f64..0.9, n in 3usize..9) {
            let solids: Vec<f64> = (0..n).map(|i| first * left.powi(i32::try_from(i).unwrap())).collect();
            let floor = first * left.powi(i32::try_from(n).unwrap() + 4);
            let fit = flushes_to_go(&solids, floor).unwrap();
            prop_assert!((fit.estimate - 5.0).abs() < 1e-6);
            prop_assert!((fit.left_per_flush - left).abs() < 1e-9 && (fit.first / first - 1.0).abs() < 1e-9);
            prop_assert!(fit.standard_uncertainty < 1e-5);
            let below = flushes_to_go(&solids, first).unwrap();
            prop_assert_eq!(below.estimate, 0.0);
        }

        #[test]
        fn the_uncertainty_is_the_first_order_one(noise in proptest::collection::vec(-0.05f64..0.05, 5)) {
            // The delta method on the fitted pair, worked out by numerical derivative.
            let solids: Vec<f64> = noise.iter().enumerate()
                .map(|(i, e)| (3.0 - 0.5 * i as f64 + e).exp()).collect();
            let fit = flushes_to_go(&solids, 0.1).unwrap();
            let points: Vec<WeightedPoint> =
                solids.iter().enumerate().map(|(i, y)| (i as f64 + 1.0, y.ln(), 1.0)).collect();
            let s = FittedLine::through(&points).scatter.sqrt();
            let mut sum = 0.0;
            for i in 0..5 {
                let moved = |h: f64| {
                    let mut other = solids.clone();
                    other[i] *= h.exp();
                    flushes_to_go(&other, 0.1).unwrap().estimate
                };
                sum += (s * (moved(1e-5) - moved(-1e-5)) / 2e-5).powi(2);
            }
            // Were each reading uncertain by that scatter, reading alone would bring as much.
            let us: Vec<f64> = solids.iter().map(|y| s * y).collect();
            let read = flushes_to_go_as_read(&solids, &us, 0.1).unwrap();
            prop_assert!((read.standard_uncertainty - sum.sqrt()).abs() < 1e-6 * (1.0 + sum.sqrt()));
            prop_assert!((fit.standard_uncertainty - sum.sqrt()).abs() < 1e-6 * (1.0 + sum.sqrt()));
        }
    }

    #[test]
    fn too_few_and_not_falling_are_told() {
        assert_eq!(
            flushes_to_go(&[5.0, 0.0, 2.0], 0.1).unwrap_err().to_string(),
            "a decay needs at least 3 readings above zero, and 2 of them are \
             (two points fix a line and leave nothing to judge it by)"
        );
        assert_eq!(
            flushes_to_go(&[1.0, 2.0, 4.0], 0.1).unwrap_err().to_string(),
            "the solids are not falling from dump to dump (one leaves 2 of the one before), \
             so there is no end to tell \
             (a well that brings sand feeds the tank anew)"
        );
        assert_eq!(
            flushes_to_go(&[4.0, 2.0, 1.0], 0.0).unwrap_err().to_string(),
            "the floor of the reading is zero, which a decay never reaches \
             (the logarithm of zero does not exist; take the least amount that can be read)"
        );
        assert!(flushes_to_go(&[1.0, f64::NAN, 0.5, 0.2], 0.1).is_err());
    }

    #[test]
    fn of_every_reading_but_two_a_degree_of_freedom_is_left() {
        for (count, degrees) in [(3, 1), (4, 2), (5, 3), (8, 6)] {
            let solids: Vec<f64> = (0..count).map(|n| 0.5f64.powi(n)).collect();
            assert_eq!(flushes_to_go(&solids, 0.001).unwrap().degrees_of_freedom, degrees);
        }
    }

    #[test]
    fn zero_readings_keep_their_place_in_the_count() {
        let fit = flushes_to_go(&[8.0, 4.0, 2.0, 0.0], 0.25).unwrap();
        assert!((fit.estimate - 2.0).abs() < 1e-9 && fit.degrees_of_freedom == 1);
    }

    /// JCGM 100:2008, Table G.2: 12.71, 4.30 and 3.18 for one, two and three degrees (from memory).
    #[test]
    fn the_interval_is_that_of_students_t() {
        for (degrees_of_freedom, factor) in [(1, 12.71), (2, 4.30), (3, 3.18), (0, 12.71)] {
            for (estimate, u) in [(100.0, 4.0), (1.0, 0.5)] {
                let fit = FlushesToGo {
                    estimate,
                    standard_uncertainty: u,
                    degrees_of_freedom,
                    left_per_flush: 0.5,
                    first: 8.0,
                };
                let (least, most) = fit.interval();
                assert!((least - (estimate - factor * u).max(0.0)).abs() < 0.005 * u, "{least}");
                assert!((most - estimate - factor * u).abs() < 0.005 * u, "{most}");
            }
        }
    }

    #[test]
    fn solids_that_stay_as_they_are_have_no_end() {
        let message = |slope: f64| {
            flushes_to_go(&[(slope + 1.0).exp(), (2.0 * slope + 1.0).exp(), (3.0 * slope + 1.0).exp()], 0.1)
        };
        let level = "the solids are not falling from dump to dump (one leaves 1 of the one before), \
                     so there is no end to tell \
                     (a well that brings sand feeds the tank anew)";
        for slope in [0.0, -0.9e-9, 0.9e-9] {
            assert_eq!(message(slope).unwrap_err().to_string(), level, "{slope}");
        }
        assert!(message(-1.1e-9).is_ok());
    }

    /// Readings on a true decay scatter by nothing; what is left is how well each is read, and the delta
    /// method by numerical derivative tells what that makes.
    #[test]
    fn the_doubt_of_reading_goes_by_each_readings_pull() {
        let (solids, us) = ([16.0, 8.0, 0.0, 2.0, 1.0], [1.0, 0.2, 9.0, 0.3, 0.05]);
        let estimate = |solids: &[f64]| flushes_to_go(solids, 0.1).unwrap().estimate;
        let variance = |i: usize| {
            let moved = |by: f64| {
                let mut other = solids;
                other[i] += by;
                estimate(&other)
            };
            (us[i] * (moved(1e-6) - moved(-1e-6)) / 2e-6).powi(2)
        };
        let expected = [0, 1, 3, 4].map(variance).iter().sum::<f64>().sqrt();
        let fit = flushes_to_go_as_read(&solids, &us, 0.1).unwrap();
        assert!((fit.standard_uncertainty / expected - 1.0).abs() < 1e-6, "{fit:?} {expected}");
        // Readings beyond those whose uncertainty is given have none.
        let one = flushes_to_go_as_read(&solids, &us[..1], 0.1).unwrap().standard_uncertainty;
        assert!((one / variance(0).sqrt() - 1.0).abs() < 1e-6, "{one}");
    }
}
