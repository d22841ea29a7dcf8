//! One trend from several stretches: the air is set anew now and then, and each time the level
//! begins afresh while the loss goes on as before.

use super::line::FittedLine;
use super::trend::{Reading, Trend, check, trend};
use super::{FormulaResult, OutOfRange};

/// Fits lines of one slope to several stretches of readings, each with a level of its own.
///
/// The slope is the weighted mean of the stretches' own slopes (analysis of covariance with one
/// common slope); level and predictions are those of the last stretch. Readings weigh `1 / u²`;
/// where they scatter more than that allows, all uncertainties are taken as larger in proportion,
/// with one degree of freedom lost for each level and one for the slope.
///
/// Units: as of [`trend`]. Range: a last stretch that is not empty, every `u` above zero, and one
/// stretch at least with readings at two times. Source: analysis of covariance (textbook); for one
/// stretch it is [`trend`].
///
/// ```
/// use tankhand::physics::{MONTH, Reading, common_slope_trend};
/// let read = |month: f64, value| Reading { at: month * MONTH, value, u: 0.3 };
/// let segments = [
///     vec![read(0.0, 38.0), read(12.0, 35.6)],
///     vec![read(12.0, 38.0), read(24.0, 35.6)],
///     vec![read(24.0, 37.5)],
/// ];
/// let fit = common_slope_trend(&segments, 0.0).unwrap();
/// assert!((fit.loss_per_month() - 0.2).abs() < 1e-9);
/// assert!((fit.at(36.0 * MONTH) - 35.1).abs() < 1e-9);
/// ```
pub fn common_slope_trend(segments: &[Vec<Reading>], shared_u: f64) -> FormulaResult<Trend> {
    let Some(newest) = segments.last().filter(|segment| !segment.is_empty()) else {
        return trend(&[], shared_u);
    };
    if let [only] = segments {
        return trend(only, shared_u);
    }
    for reading in segments.iter().flatten() {
        check(reading)?;
        if reading.u <= 0.0 {
            return Err(OutOfRange::new("a reading has no uncertainty", &[], "stretches are weighed by it"));
        }
    }
    let middles: Vec<Middle> =
        segments.iter().filter(|segment| !segment.is_empty()).map(|s| Middle::of(s)).collect();
    let last = newest.iter().map(|reading| reading.at).fold(f64::NEG_INFINITY, f64::max);
    let line = common_line(&middles);
    if !(line.spread > 0.0 && line.slope.is_finite() && line.scatter.is_finite()) {
        return Err(OutOfRange::new(
            "no stretch has readings at two times, so there is no trend to tell",
            &[],
            "a slope needs two places",
        ));
    }
    let of_scatter = (line.scatter > 1.0).then_some(line.degrees);
    Ok(Trend { variance: line.scatter.max(1.0), of_scatter, shared_u, last, line })
}

/// A stretch with its weighted middle.
struct Middle<'a> {
    readings: &'a [Reading],
    weight: f64,
    at: f64,
    level: f64,
}

impl Middle<'_> {
    fn of(readings: &[Reading]) -> Middle<'_> {
        let weight = readings.iter().map(weight).sum::<f64>();
        // From the first on, so that readings at one time lie exactly in the middle, and no slope
        // is made of rounding.
        let from = |first: f64, of: fn(&Reading) -> f64| {
            first + readings.iter().map(|r| weight_of(r, of(r) - first)).sum::<f64>() / weight
        };
        let at = from(readings.first().map_or(0.0, |r| r.at), |r| r.at);
        let level = from(readings.first().map_or(0.0, |r| r.value), |r| r.value);
        Middle { readings, weight, at, level }
    }

    /// The weighted sum of what `of` makes of each reading's distances from the middle.
    fn sum(&self, of: impl Fn(f64, f64) -> f64) -> f64 {
        self.readings.iter().map(|r| weight_of(r, of(r.at - self.at, r.value - self.level))).sum()
    }
}

fn weight(reading: &Reading) -> f64 {
    reading.u.powi(-2)
}

fn weight_of(reading: &Reading, value: f64) -> f64 {
    weight(reading) * value
}

/// The line of the last stretch with the slope of all.
fn common_line(middles: &[Middle<'_>]) -> FittedLine {
    let spread = middles.iter().map(|m| m.sum(|at, _| at * at)).sum::<f64>();
    let slope = middles.iter().map(|m| m.sum(|at, value| at * value)).sum::<f64>() / spread;
    let rest = middles.iter().map(|m| m.sum(|at, value| (value - slope * at).powi(2))).sum::<f64>();
    let count = middles.iter().map(|m| m.readings.len()).sum::<usize>();
    let degrees = count.saturating_sub(middles.len() + 1);
    let scatter = if degrees == 0 { 0.0 } else { rest / degrees as f64 };
    let (middle, level, weight) = middles.last().map_or((0.0, 0.0, 0.0), |m| (m.at, m.level, m.weight));
    FittedLine { slope, middle, level, weight, spread, scatter, degrees }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::MONTH;
    use proptest::prelude::*;

    fn read(month: f64, value: f64) -> Reading {
        Reading { at: month * MONTH, value, u: 0.3 }
    }

    proptest! {
        /// Two readings a stretch: the slope is the mean of the stretches' losses, and its
        /// uncertainty that of a mean of differences.
        #[test]
        fn yearly_pairs_give_the_mean_loss(losses in proptest::collection::vec(-3.0f64..3.0, 1..6)) {
            let segments: Vec<_> = losses.iter().zip(0..).map(|(loss, year)| {
                let begin = 12.0 * f64::from(year);
                vec![read(begin, 38.0), read(begin + 12.0, 38.0 - loss)]
            }).collect();
            let fit = common_slope_trend(&segments, 0.0).unwrap();
            let n = losses.len() as f64;
            prop_assert!((fit.loss_per_month() - losses.iter().sum::<f64>() / n / 12.0).abs() < 1e-9);
            let mean = losses.iter().sum::<f64>() / n;
            let scatter = losses.iter().map(|l| (l - mean).powi(2)).sum::<f64>() / (n - 1.0).max(1.0);
            let of_difference = scatter.max(2.0 * 0.3 * 0.3).sqrt();
            prop_assert!((fit.slope_u() * MONTH / (of_difference / n.sqrt() / 12.0) - 1.0).abs() < 1e-6);
        }

        /// Cutting one line in two without moving it leaves its slope what it was.
        #[test]
        fn a_level_of_its_own_costs_only_certainty(loss in -0.5f64..0.5, cut in 2usize..6) {
            let all: Vec<_> = (0..8).map(|m| read(f64::from(m), 38.0 - loss * f64::from(m))).collect();
            let (one, two) = all.split_at(cut);
            let fit = common_slope_trend(&[one.to_vec(), two.to_vec()], 0.0).unwrap();
            prop_assert!((fit.loss_per_month() - loss).abs() < 1e-9);
            prop_assert!(fit.slope_u() > trend(&all, 0.0).unwrap().slope_u());
        }
    }

    proptest! {
        /// The time of one reading, taken as its own mean, is the same time: no slope comes of it.
        #[test]
        fn readings_at_one_time_have_no_slope(at in 1.0e9f64..4.0e9, u in 0.01f64..3.0, n in 1usize..4) {
            let segment = |value: f64| vec![Reading { at, value, u }; n];
            prop_assert!(common_slope_trend(&[segment(35.2), segment(35.8)], 0.0).is_err());
        }
    }

    /// Against NumPy 2.4.6, `linalg.lstsq` with a column for each stretch and one for the months.
    #[test]
    fn it_is_the_least_squares_fit_with_a_column_for_each_stretch() {
        let plain: [&[(f64, f64, f64)]; 3] = [
            &[(0.0, 38.0, 0.3), (7.0, 37.2, 0.4), (12.0, 36.1, 0.3)],
            &[(12.0, 38.1, 0.2), (24.0, 36.0, 0.3)],
            &[(24.0, 37.9, 0.3), (27.0, 37.8, 0.25), (36.0, 36.9, 0.3), (40.0, 36.2, 0.5)],
        ];
        let fit = |noise: f64| {
            let segments: Vec<Vec<Reading>> = plain
                .iter()
                .map(|segment| {
                    let signed = segment.iter().zip([-noise, noise].into_iter().cycle());
                    signed
                        .map(|((m, value, u), off)| Reading { at: m * MONTH, value: value + off, u: *u })
                        .collect()
                })
                .collect();
            common_slope_trend(&segments, 0.0).unwrap()
        };
        let close = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-9, "{a} against {b}");
        let calm = fit(0.0);
        close(calm.loss_per_month(), 0.139_274_046_759_105_37);
        close(calm.slope_u() * MONTH, 0.017_527_535_819_315_543);
        close(calm.at(60.0 * MONTH), 33.233_284_567_314_655);
        close(calm.u_at(60.0 * MONTH), 0.551_072_449_179_572_4);
        // Scattered more than the uncertainties allow: these are taken as larger in proportion.
        let noisy = fit(0.9);
        close(noisy.loss_per_month(), 0.087_860_043_354_368_14);
        close(noisy.slope_u() * MONTH, 0.063_255_409_181_159_4);
    }

    /// Two years that lose 2.4 psi give or take `off`: the variance is `off²` in units of 0.3², with one degree of
    /// freedom, and the mean loss is sure to its root by 0.3 a year. Where that is more than the uncertainties allow,
    /// however little, Student's t of 12.706 stands in place of 1.960 at 95 %.
    #[test]
    fn stretches_that_scatter_more_than_they_may_have_students_interval() {
        for (ratio, expected) in
            [(0.5f64, 1.960), (0.99, 1.960), (1.01, 12.706 * 1.01f64.sqrt()), (1.5, 15.562)]
        {
            let off = 0.3 * ratio.sqrt();
            let segments = [2.4 - off, 2.4 + off].map(|loss| vec![read(0.0, 38.0), read(12.0, 38.0 - loss)]);
            let (least, most) = common_slope_trend(&segments, 0.0).unwrap().loss_interval(0.95).unwrap();
            let reach = expected * 0.3 / 12.0;
            assert!((least - (0.2 - reach)).abs() < 1e-4, "{ratio}: {least}");
            assert!((most - (0.2 + reach)).abs() < 1e-4, "{ratio}: {most}");
        }
    }

    #[test]
    fn what_is_no_trend_is_told() {
        let say = |segments: &[Vec<Reading>]| common_slope_trend(segments, 0.0).unwrap_err().to_string();
        assert_eq!(
            say(&[vec![read(0.0, 38.0)], vec![read(12.0, 38.0)]]),
            "no stretch has readings at two times, so there is no trend to tell (a slope needs two places)"
        );
        let bare = Reading { u: 0.0, ..read(1.0, 38.0) };
        assert_eq!(
            say(&[vec![bare], vec![read(12.0, 38.0)]]),
            "a reading has no uncertainty (stretches are weighed by it)"
        );
        assert!(common_slope_trend(&[], 0.0).is_err());
    }

    /// A second apart is two times as well as a year.
    #[test]
    fn readings_a_second_apart_tell_a_slope() {
        let read = |at: f64, value: f64| Reading { at, value, u: 1.0 };
        let pair = vec![read(0.0, 38.0), read(1.0, 37.0)];
        let fit = common_slope_trend(&[vec![read(0.0, 30.0)], pair.clone()], 0.0).unwrap();
        assert_eq!((fit.slope(), fit.slope_u(), fit.at(2.0)), (-1.0, 2f64.sqrt(), 36.0));
        let alone = trend(&pair, 0.0).unwrap();
        assert_eq!((alone.slope(), alone.slope_u(), alone.at(2.0)), (-1.0, 2f64.sqrt(), 36.0));
    }
}
