//! When a trend leaves a band, with an interval, and when to look again.

use super::trend::{MONTH, Trend};
use super::{FormulaResult, OutOfRange};

/// When a value is expected to leave a band; s, on the clock of the readings.
///
/// None means not within a hundred years.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandExit {
    /// By the line itself.
    pub estimate: Option<f64>,
    /// The earliest at the confidence asked for.
    pub earliest: Option<f64>,
    /// The latest at the confidence asked for.
    pub latest: Option<f64>,
}

/// No trend is carried further than this; s.
const HORIZON: f64 = 1_200.0 * MONTH;

/// When a trend leaves a band, counted from its last reading.
///
/// The line, and the interval about it at the confidence, are followed to where they cross the
/// band's edge: `(line − edge)² = k² u²`, a quadratic in time (E. C. Fieller's interval). What
/// the readings share counts here, for the band is an absolute one.
///
/// Units: those of the readings, and s. Range: band with its least below its most; a hundred
/// years. Source: E. C. Fieller, *Journal of the Royal Statistical Society B* 16 (1954) 175 (from
/// memory).
///
/// ```
/// use tankhand::physics::{MONTH, Reading, band_exit, trend};
/// let read = |month: f64, value| Reading { at: month * MONTH, value, u: 0.1 };
/// let fit = trend(&[read(0.0, 38.0), read(6.0, 37.0), read(12.0, 36.0)], 0.0).unwrap();
/// let exit = band_exit(&fit, [33.0, 39.0], 0.95).unwrap();
/// assert!((exit.estimate.unwrap() / MONTH - 30.0).abs() < 1e-6);
/// assert!(exit.earliest < exit.estimate && exit.estimate < exit.latest);
/// ```
pub fn band_exit(trend: &Trend, band: [f64; 2], confidence: f64) -> FormulaResult<BandExit> {
    let [least, most] = band;
    if !(least < most && least.is_finite() && most.is_finite()) {
        return Err(OutOfRange::new(
            "the band to stay in has no inside",
            &[],
            "its least must be below its most",
        ));
    }
    let factor = trend.two_sided(confidence)?;
    let below = Edge { trend, edge: least, sign: 1.0, factor };
    let above = Edge { trend, edge: -most, sign: -1.0, factor };
    let sooner = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (one, other) => one.or(other),
    };
    Ok(BandExit {
        estimate: sooner(below.estimate(), above.estimate()),
        earliest: sooner(below.earliest(), above.earliest()),
        latest: sooner(below.latest(), above.latest()),
    })
}

/// One edge of the band, turned so that leaving means falling below it.
struct Edge<'a> {
    trend: &'a Trend,
    edge: f64,
    sign: f64,
    factor: f64,
}

impl Edge<'_> {
    /// How far the line is inside at a time.
    fn inside(&self, time: f64) -> f64 {
        self.sign * self.trend.at(time) - self.edge
    }

    fn reach(&self, time: f64) -> f64 {
        self.factor * self.trend.u_at(time)
    }

    fn estimate(&self) -> Option<f64> {
        let last = self.trend.last;
        if self.inside(last) < 0.0 {
            return Some(last);
        }
        let fall = -self.sign * self.trend.slope();
        (fall > 0.0).then(|| last + self.inside(last) / fall).filter(|time| self.in_sight(*time))
    }

    fn earliest(&self) -> Option<f64> {
        let last = self.trend.last;
        if self.inside(last) < self.reach(last) {
            return Some(last);
        }
        self.crossings().into_iter().flatten().filter(|time| self.inside(*time) >= 0.0).reduce(f64::min)
    }

    fn latest(&self) -> Option<f64> {
        let last = self.trend.last;
        let falls = -self.sign * self.trend.slope() > self.factor * self.trend.slope_u();
        if self.inside(last) < -self.reach(last) {
            return Some(last);
        }
        let out = self.crossings().into_iter().flatten().filter(|time| self.inside(*time) <= 0.0);
        out.reduce(f64::min).filter(|_| falls)
    }

    /// Where the interval's ends cross the edge after the last reading.
    fn crossings(&self) -> [Option<f64>; 2] {
        let (line, k) = (&self.trend.line, self.factor * self.factor);
        let slope = self.sign * line.slope;
        let gap = self.sign * line.level - self.edge;
        let of_level = self.trend.variance / line.weight + self.trend.shared_u * self.trend.shared_u;
        let a = slope * slope - k * self.trend.variance / line.spread;
        let b = slope * gap;
        let c = gap * gap - k * of_level;
        let under_root = b * b - a * c;
        if under_root < 0.0 {
            return [None, None];
        }
        let root = under_root.sqrt();
        // The stable form of both roots: one by q / a, the other by c / q.
        let q = -(b + root.copysign(b));
        [q / a, c / q]
            .map(|since| Some(line.middle + since).filter(|t| *t >= self.trend.last && self.in_sight(*t)))
    }

    fn in_sight(&self, time: f64) -> bool {
        time.is_finite() && time <= self.trend.last + HORIZON
    }
}

/// When to look again: half-way to the earliest leaving, a month from the last reading at the
/// soonest and a year at the latest.
///
/// Units: s. Range: any. Source: judgement: half-way leaves time to act; within a month a loss
/// that matters is less than a gauge can show; a yearly look is common practice.
///
/// ```
/// use tankhand::physics::{MONTH, Reading, band_exit, look_again, trend};
/// let read = |month: f64, value| Reading { at: month * MONTH, value, u: 0.1 };
/// let fit = trend(&[read(0.0, 38.0), read(6.0, 37.9), read(12.0, 38.1)], 0.0).unwrap();
/// let exit = band_exit(&fit, [30.0, 46.0], 0.95).unwrap();
/// assert_eq!(look_again(&fit, &exit), fit.last_reading() + 12.0 * MONTH);
/// ```
pub fn look_again(trend: &Trend, exit: &BandExit) -> f64 {
    let half_way = exit.earliest.map_or(f64::INFINITY, |time| 0.5 * (time - trend.last));
    trend.last + half_way.clamp(MONTH, 12.0 * MONTH)
}

impl Trend {
    /// When the last reading was taken; s.
    pub fn last_reading(&self) -> f64 {
        self.last
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::{Reading, trend};
    use proptest::prelude::*;

    fn fit(values: &[f64], u: f64, shared: f64) -> Trend {
        let readings: Vec<_> = values
            .iter()
            .zip(0..)
            .map(|(value, i)| Reading { at: f64::from(i) * 3.0 * MONTH, value: *value, u })
            .collect();
        trend(&readings, shared).unwrap()
    }

    proptest! {
        #[test]
        fn the_ends_stand_where_the_interval_crosses_the_edge(
            noise in proptest::collection::vec(-0.3f64..0.3, 5), loss in 0.2f64..1.0, shared in 0.0f64..0.5
        ) {
            let values: Vec<f64> = noise.iter().zip(0..).map(|(e, i)| 38.0 - loss * f64::from(i) + e).collect();
            let fit = fit(&values, 0.2, shared);
            let exit = band_exit(&fit, [25.0, 60.0], 0.95).unwrap();
            let k = fit.two_sided(0.95).unwrap();
            let at = exit.estimate.unwrap();
            prop_assert!((fit.at(at) - 25.0).abs() < 1e-6);
            if let Some(early) = exit.earliest {
                prop_assert!(early <= at && (fit.at(early) - k * fit.u_at(early) - 25.0).abs() < 1e-6);
            }
            if let Some(late) = exit.latest {
                prop_assert!(late >= at && (fit.at(late) + k * fit.u_at(late) - 25.0).abs() < 1e-6);
            }
        }

        #[test]
        fn upside_down_is_the_same(noise in proptest::collection::vec(-1.0f64..1.0, 4)) {
            let down: Vec<f64> = noise.iter().map(|e| 30.0 + e).collect();
            let up: Vec<f64> = noise.iter().map(|e| -30.0 - e).collect();
            let a = band_exit(&fit(&down, 0.3, 0.1), [27.0, 34.0], 0.95).unwrap();
            let b = band_exit(&fit(&up, 0.3, 0.1), [-34.0, -27.0], 0.95).unwrap();
            prop_assert_eq!(a, b);
        }
    }

    #[test]
    fn what_is_out_already_leaves_now_and_is_looked_at_soon() {
        let fit = fit(&[38.0, 33.0, 28.0], 0.2, 0.0);
        let exit = band_exit(&fit, [30.0, 40.0], 0.95).unwrap();
        let now = Some(fit.last_reading());
        assert_eq!((exit.estimate, exit.earliest, exit.latest), (now, now, now));
        assert_eq!(look_again(&fit, &exit), fit.last_reading() + MONTH);
        assert_eq!(
            band_exit(&fit, [40.0, 30.0], 0.95).unwrap_err().to_string(),
            "the band to stay in has no inside (its least must be below its most)"
        );
    }

    #[test]
    fn a_level_line_has_no_latest_day() {
        let fit = fit(&[38.0, 38.1, 37.9, 38.0], 0.2, 0.0);
        let exit = band_exit(&fit, [30.0, 46.0], 0.95).unwrap();
        assert_eq!(exit.latest, None);
        assert!(exit.earliest.is_some());
    }

    /// Falling by 0.022 a month, sure to 0.0231 only, and 0.1785 below the edge, sure to 0.1789: soon after the last
    /// reading the interval lies outside for a while, but a line that may not fall at all has no latest day.
    #[test]
    fn a_fall_within_its_doubt_has_no_latest_day_though_the_line_is_out() {
        let readings = [0.0, 6.0, 12.0].map(|month| Reading {
            at: month * MONTH,
            value: 30.0 - 0.1785 + 0.022 * (12.0 - month),
            u: 0.1,
        });
        let fit = trend(&readings, 0.0).unwrap();
        let exit = band_exit(&fit, [30.0, 46.0], 0.95).unwrap();
        let now = Some(fit.last_reading());
        assert_eq!((exit.estimate, exit.earliest, exit.latest), (now, now, None));
    }

    /// A line that is known to be exact but for its own uncertainty: what is known of it by hand.
    #[track_caller]
    fn left(fit: &Trend, band: [f64; 2], expected: [Option<f64>; 3]) {
        let exit = band_exit(fit, band, 0.95).unwrap();
        for (found, expected) in [exit.estimate, exit.earliest, exit.latest].iter().zip(expected) {
            let months = found.map(|time| time / MONTH);
            let near = match (months, expected) {
                (Some(a), Some(b)) => (a - b).abs() < 1e-6,
                (a, b) => a == b,
            };
            assert!(near, "{band:?}: {months:?} is not {expected:?}");
        }
    }

    /// 38, 37, 36 each half a year, exact but for 0.1 that all share: 1.96 × 0.1 is 1.176 months of the loss.
    #[test]
    fn the_edge_is_met_as_far_off_as_the_doubt_reaches() {
        let months: [(f64, f64); 3] = [(0.0, 38.0), (6.0, 37.0), (12.0, 36.0)];
        let readings = months.map(|(month, value)| Reading { at: month * MONTH, value, u: 1e-6 });
        let shared = 0.1;
        let off = crate::physics::one_sided(0.975).unwrap() * shared * 6.0;
        let fit = trend(&readings, shared).unwrap();
        let falling = |least: f64| {
            // Where the line meets the edge, and the ends about it, not before the last reading.
            let at = (38.0 - least) * 6.0;
            [at, at - off, at + off].map(|month| Some(month.max(12.0)))
        };
        for least in [20.0, 35.0, 35.5, 35.79, 35.81, 35.95, 35.999, 36.001, 36.1, 36.19, 36.21, 37.0] {
            left(&fit, [least, 60.0], falling(least));
            let up: Vec<_> = readings.iter().map(|r| Reading { value: -r.value, ..*r }).collect();
            left(&trend(&up, shared).unwrap(), [-60.0, -least], falling(least));
        }
    }

    #[test]
    fn nothing_is_foretold_beyond_a_hundred_years() {
        for (years, sees) in [(99.0, true), (101.0, false)] {
            let loss = 3.0 / (years * 12.0);
            let readings = [0.0, 6.0, 12.0].map(|month| Reading {
                at: month * MONTH,
                value: 38.0 - loss * month,
                u: 1e-9,
            });
            let fit = trend(&readings, 0.0).unwrap();
            // The hundred years begin with the last reading.
            let exit = band_exit(&fit, [35.0 - 12.0 * loss, 60.0], 0.95).unwrap();
            let seen = [exit.estimate, exit.earliest, exit.latest].map(|time| time.is_some());
            assert_eq!(seen, [sees; 3], "{years}");
        }
    }

    #[test]
    fn a_band_needs_an_inside_and_ends() {
        let fit = fit(&[38.0, 37.0, 36.0], 0.2, 0.0);
        assert!(band_exit(&fit, [30.0, 30.0f64.next_up()], 0.95).is_ok());
        let none = "the band to stay in has no inside (its least must be below its most)";
        for band in
            [[30.0, 30.0], [30.0f64.next_up(), 30.0], [f64::NEG_INFINITY, 40.0], [30.0, f64::INFINITY]]
        {
            assert_eq!(band_exit(&fit, band, 0.95).unwrap_err().to_string(), none, "{band:?}");
        }
        // Both edges may be met; the sooner counts.
        let both = band_exit(&fit, [20.0, 40.0], 0.95).unwrap();
        let one = band_exit(&fit, [20.0, 60.0], 0.95).unwrap();
        assert_eq!(both, one);
    }
}
