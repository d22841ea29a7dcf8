//! The trend over the years: is a tank losing air, how fast, and when should one look again?
//!
//! It takes precharges corrected to one temperature ([`precharge_at`](super::precharge_at)), or drawdowns,
//! and knows nothing of resets: whoever asks gives the readings since the precharge was last set.
//! What all readings share, the gauge's own error, shifts every one of them alike; it does not
//! touch the slope, only how the level compares with a band.

use super::confidence::{one_sided, one_sided_of_few};
use super::line::FittedLine;
use super::{FormulaResult, MessagePart, OutOfRange, limits};
use crate::quantity::{Measure, YEAR};

/// Seconds in a month, a twelfth of the mean year.
pub const MONTH: f64 = YEAR / 12.0;

/// One reading of a trend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// When it was taken; s, from any beginning.
    pub at: f64,
    /// What was found.
    pub value: f64,
    /// Its own standard uncertainty, without what all readings share; zero in all of them when
    /// only their scatter is to tell. Where gauges were changed between readings nothing is
    /// shared: each reading then carries its gauge's accuracy here.
    pub u: f64,
}

/// What a series of readings says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drift {
    /// It loses less than what matters.
    Steady,
    /// It loses at least what matters.
    Losing,
    /// The readings do not tell yet.
    Undecided,
}

impl Drift {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Drift::Steady => "steady",
            Drift::Losing => "losing air",
            Drift::Undecided => "can't tell yet",
        }
    }
}

/// A straight line through readings, with its uncertainty.
#[derive(Clone, Debug)]
pub struct Trend {
    pub(super) line: FittedLine,
    /// What the weights are multiplied with to give variances.
    pub(super) variance: f64,
    /// Degrees of freedom when the scatter told the variance; none when the readings' own
    /// uncertainties did.
    pub(super) of_scatter: Option<usize>,
    pub(super) shared_u: f64,
    pub(super) last: f64,
}

/// Fits a straight line to readings.
///
/// Least squares, each reading weighted by `1 / u²`. Where the readings scatter more than their
/// uncertainties allow, all of these are taken as larger in proportion (Birge's ratio, never
/// below 1) and Student's t is used; so too where no uncertainties are given.
///
/// Units: s and one unit for value, `u` and `shared_u`. Range: at least two readings at
/// different times, three where no uncertainty is given. Source: weighted least squares
/// (textbook); R. T. Birge, *Physical Review* 40 (1932) 207 (from memory).
///
/// ```
/// use tankhand::physics::{MONTH, Reading, trend};
/// let read = |month: f64, value| Reading { at: month * MONTH, value, u: 0.3 };
/// let fit = trend(&[read(0.0, 38.0), read(6.0, 37.0), read(12.0, 36.1)], 0.5).unwrap();
/// assert!((fit.loss_per_month() - 0.158).abs() < 0.001);
/// ```
pub fn trend(readings: &[Reading], shared_u: f64) -> FormulaResult<Trend> {
    for reading in readings {
        check(reading)?;
    }
    super::flush::not_negative("the uncertainty that all readings share", shared_u)?;
    let known = readings.iter().filter(|reading| reading.u > 0.0).count();
    if known != 0 && known != readings.len() {
        return Err(OutOfRange::new("some readings have an uncertainty and some have none", &[], WEIGHTS));
    }
    let needed = if known == 0 { 3 } else { 2 };
    if readings.len() < needed {
        return Err(OutOfRange::new(
            "a trend needs at least {} readings, and {} were given",
            &[number(needed as f64), number(readings.len() as f64)],
            "two numbers are fitted; without uncertainties a third reading must show the scatter",
        ));
    }
    let weighted: Vec<_> = readings
        .iter()
        .map(|reading| (reading.at, reading.value, if known == 0 { 1.0 } else { reading.u.powi(-2) }))
        .collect();
    let line = FittedLine::through(&weighted);
    let last = readings.iter().map(|reading| reading.at).fold(f64::NEG_INFINITY, f64::max);
    let variance = if known == 0 { line.scatter } else { line.scatter.max(1.0) };
    let scatters = known == 0 || line.scatter > 1.0;
    let of_scatter = scatters.then_some(line.degrees);
    let fit = Trend { line, variance, of_scatter, shared_u, last };
    if fit.tells() {
        return Ok(fit);
    }
    Err(OutOfRange::new(
        "the readings were all taken at one time, so there is no trend to tell",
        &[],
        "a slope needs two places",
    ))
}

const WEIGHTS: &str = "a reading without uncertainty would outweigh all others";

fn number(n: f64) -> MessagePart {
    MessagePart::Value(Measure::Count, n)
}

pub(super) fn check(reading: &Reading) -> FormulaResult<()> {
    limits::MOMENT.check("the time of a reading", &reading.at)?;
    limits::READING.check("a reading", &reading.value)?;
    if reading.u == 0.0 {
        return Ok(());
    }
    limits::READING_U.check("the uncertainty of a reading", &reading.u)
}

impl Trend {
    /// Whether the times lie far enough apart for a slope and an uncertainty of it that are numbers.
    fn tells(&self) -> bool {
        self.line.spread > 0.0 && self.loss_per_month().is_finite() && (self.slope_u() * MONTH).is_finite()
    }

    /// The slope, in the unit of the readings a second.
    pub fn slope(&self) -> f64 {
        self.line.slope
    }

    /// Standard uncertainty of the slope.
    pub fn slope_u(&self) -> f64 {
        (self.variance / self.line.spread).sqrt()
    }

    /// The line's value at a time, in the unit of the readings.
    pub fn at(&self, time: f64) -> f64 {
        self.line.at(time)
    }

    /// Standard uncertainty of that value, with what the readings share.
    pub fn u_at(&self, time: f64) -> f64 {
        (self.variance * self.line.leverage(time)).sqrt().hypot(self.shared_u)
    }

    /// What is lost in a month, below zero where it grows.
    pub fn loss_per_month(&self) -> f64 {
        -self.line.slope * MONTH
    }

    /// The interval that holds the loss a month at a confidence, both sides alike.
    ///
    /// # Errors
    /// When the confidence is none.
    pub fn loss_interval(&self, confidence: f64) -> FormulaResult<(f64, f64)> {
        let reach = self.two_sided(confidence)? * self.slope_u() * MONTH;
        Ok((self.loss_per_month() - reach, self.loss_per_month() + reach))
    }

    /// Steady, losing, or too early to tell, against the loss a month that matters.
    ///
    /// Each verdict needs the confidence (JCGM 106:2012, 7.3: one tolerance limit). For a precharge,
    /// more than 2 to 3 psi a year is a finding (judgement; sources disagree whether a sound
    /// bladder loses any).
    ///
    /// # Errors
    /// When the confidence is none.
    pub fn drift(&self, matters: f64, confidence: f64) -> FormulaResult<Drift> {
        let reach = self.factor(confidence)? * self.slope_u() * MONTH;
        Ok(match self.loss_per_month() {
            loss if loss - reach >= matters => Drift::Losing,
            loss if loss + reach < matters => Drift::Steady,
            _ => Drift::Undecided,
        })
    }

    /// Standard uncertainties on one side at a confidence.
    fn factor(&self, confidence: f64) -> FormulaResult<f64> {
        match self.of_scatter {
            Some(degrees) => one_sided_of_few(confidence, degrees),
            None => one_sided(confidence),
        }
    }

    /// Standard uncertainties on either side at a confidence.
    pub(super) fn two_sided(&self, confidence: f64) -> FormulaResult<f64> {
        limits::CONFIDENCE.check("the confidence", &confidence)?;
        self.factor((0.5 + 0.5 * confidence).min(limits::CONFIDENCE.most))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(month: f64, value: f64, u: f64) -> Reading {
        Reading { at: month * MONTH, value, u }
    }

    proptest! {
        #[test]
        fn a_true_line_is_found_again(start in 20.0f64..40.0, loss in -0.5f64..0.5, n in 3usize..9) {
            let readings: Vec<_> = (0..n).map(|i| read(i as f64 * 3.0, start - loss * 3.0 * i as f64, 0.2)).collect();
            let fit = trend(&readings, 0.0).unwrap();
            prop_assert!((fit.loss_per_month() - loss).abs() < 1e-9);
            prop_assert!((fit.at(0.0) - start).abs() < 1e-9);
        }

        #[test]
        fn what_the_gauge_is_off_does_not_touch_the_slope(off in -5.0f64..5.0, noise in proptest::collection::vec(-0.5f64..0.5, 5)) {
            let at = |off: f64| {
                let readings: Vec<_> = noise.iter().zip(0..).map(|(e, i)| read(f64::from(i), 38.0 + off + e, 0.3)).collect();
                trend(&readings, 1.0).unwrap()
            };
            prop_assert!((at(off).loss_per_month() - at(0.0).loss_per_month()).abs() < 1e-9);
            prop_assert!((at(off).slope_u() / at(0.0).slope_u() - 1.0).abs() < 1e-6);
        }
    }

    #[test]
    fn few_noisy_readings_do_not_tell_and_more_do() {
        let losing = |n: usize| {
            let noise = [0.3, -0.2, -0.3, 0.2, 0.1, -0.1, 0.25, -0.25, 0.0];
            let readings: Vec<_> =
                (0..n).map(|i| read(3.0 * i as f64, 38.0 - 0.9 * i as f64 + noise[i], 0.3)).collect();
            trend(&readings, 0.5).unwrap().drift(0.25, 0.95).unwrap()
        };
        assert_eq!(losing(2), Drift::Undecided);
        assert_eq!(losing(9), Drift::Losing);
        let steady: Vec<_> = [0.1, -0.2, 0.2, -0.1]
            .iter()
            .zip(0..)
            .map(|(e, i)| read(6.0 * f64::from(i), 38.0 + e, 0.3))
            .collect();
        assert_eq!(trend(&steady, 0.5).unwrap().drift(0.2, 0.95), Ok(Drift::Steady));
    }

    /// Three readings without uncertainties, 1/15, 2/15 and 1/15 off their line: the squares sum up to 6/225 with one
    /// degree of freedom, the slope is sure to the root of a half of it, and Student's t is 12.706 at 95 %.
    #[test]
    fn the_interval_of_readings_by_their_scatter_alone_is_students() {
        let scattered = [(0.0, 38.0), (1.0, 37.5), (2.0, 37.4)].map(|(month, value)| read(month, value, 0.0));
        let (least, most) = trend(&scattered, 0.0).unwrap().loss_interval(0.95).unwrap();
        let reach = 12.706 * (6.0f64 / 225.0 / 2.0).sqrt();
        assert!((least - (0.3 - reach)).abs() < 1e-4, "{least}");
        assert!((most - (0.3 + reach)).abs() < 1e-4, "{most}");
    }

    #[test]
    fn what_is_no_trend_is_told() {
        let say = |readings: &[Reading]| trend(readings, 0.0).unwrap_err().to_string();
        assert_eq!(
            say(&[read(0.0, 38.0, 0.3)]),
            "a trend needs at least 2 readings, and 1 were given \
             (two numbers are fitted; without uncertainties a third reading must show the scatter)"
        );
        let scattered = [(0.0, 38.0), (1.0, 37.5), (2.0, 37.4)].map(|(month, value)| read(month, value, 0.0));
        assert_eq!(
            say(&scattered[..2]),
            "a trend needs at least 3 readings, and 2 were given \
             (two numbers are fitted; without uncertainties a third reading must show the scatter)"
        );
        assert!((trend(&scattered, 0.0).unwrap().loss_per_month() - 0.3).abs() < 1e-9);
        assert_eq!(
            say(&[read(0.0, 38.0, 0.3), read(1.0, 38.0, 0.0)]),
            "some readings have an uncertainty and some have none \
             (a reading without uncertainty would outweigh all others)"
        );
        assert_eq!(
            say(&[read(1.0, 38.0, 0.3), read(1.0, 37.0, 0.3)]),
            "the readings were all taken at one time, so there is no trend to tell \
             (a slope needs two places)"
        );
        // So near to each other that their distance squared is hardly a number any more.
        let near = [0.0, 6e-152].map(|at| Reading { at, value: 38.0, u: 1e6 });
        assert_eq!(say(&near), say(&[read(1.0, 38.0, 0.3), read(1.0, 37.0, 0.3)]));
    }
}
