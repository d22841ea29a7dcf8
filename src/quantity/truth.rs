//! Yes or no, with the uncertainty that uncertain numbers leave.

use thiserror::Error;

use super::law::{normal_below, probability_below};
use super::{Family, Uncertain, Unreadable, read_number};

/// The probability at which a check says pass or fail where nobody asks for another
/// (JCGM 106:2012); below it, can't tell.
pub(crate) const CONFIDENCE: f64 = 0.95;

/// Below this a check would hardly tell more than a guess; above it no gauge would do.
pub(crate) const CONFIDENCES: std::ops::RangeInclusive<f64> = 0.6..=0.999;
/// Confidences that a formula takes: below a half none is meant, and 1 is never reached.
pub(crate) const FORMULA_CONFIDENCES: std::ops::RangeInclusive<f64> = 0.5..=0.9999;

/// Why a text is not the probability of a check.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum NoConfidence {
    /// It is no number.
    #[error(transparent)]
    Unreadable(#[from] Unreadable),
    /// It is too near a guess, or nearer to certain than gauges reach.
    #[error("It should be from 60 % to 99.9 %.")]
    OutOfRange,
}

/// Reads the probability at which checks shall say pass or fail: `90 %`, `0.9`.
///
/// # Errors
/// [`NoConfidence`], a sentence that says what is wrong.
///
/// ```
/// use tankhand::quantity::read_confidence;
/// assert_eq!(read_confidence("90 %"), Ok(0.9));
/// assert!(read_confidence("40 %").is_err());
/// ```
pub fn read_confidence(text: &str) -> Result<f64, NoConfidence> {
    let typed = read_number(text, Family::Number)?;
    let confidence = typed.number * typed.unit.map_or(1.0, |unit| unit.size);
    // In binary 99.9 % is a little more than 0.999.
    let confidence = (confidence * 1e9).round() / 1e9;
    if CONFIDENCES.contains(&confidence) { Ok(confidence) } else { Err(NoConfidence::OutOfRange) }
}

/// What a check yields.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It holds, with at least the asked-for probability.
    Pass,
    /// It does not hold, with at least the asked-for probability.
    Fail,
    /// The numbers do not tell.
    Unsure,
}

impl Verdict {
    /// `pass`, `fail` or `can't tell`.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Pass => "pass",
            Verdict::Fail => "fail",
            Verdict::Unsure => "can't tell",
        }
    }
}

formula!(VERDICT:
    "What a check of the condition would say.",
    "pass when the probability is at least the confidence, fail when that of the opposite is",
    source "JCGM 106:2012"
);

/// A yes or no: the best estimate, and bounds on the probability that it is yes.
///
/// Bounds, not one figure, because the parts of an `and` may hang together; the bounds of
/// Fréchet hold whatever the connection.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Truth {
    /// What the best estimates say.
    pub best: bool,
    /// The least the probability of yes can be, 0 to 1.
    pub least: f64,
    /// The most it can be, 0 to 1.
    pub most: f64,
}

impl Truth {
    /// A yes or no without uncertainty.
    pub fn certain(yes: bool) -> Truth {
        let p = if yes { 1.0 } else { 0.0 };
        Truth { best: yes, least: p, most: p }
    }

    /// Whether `margin` (with standard uncertainty `u`, taken as normally distributed) is at
    /// least zero. JCGM 106:2012, 7.2.
    ///
    /// ```
    /// use tankhand::quantity::{Truth, Verdict};
    /// assert_eq!(Truth::of_margin(2.0, 1.0).verdict(0.95), Verdict::Pass);
    /// assert_eq!(Truth::of_margin(0.5, 1.0).verdict(0.95), Verdict::Unsure);
    /// ```
    pub fn of_margin(margin: f64, u: f64) -> Truth {
        let best = margin >= 0.0;
        if u > 0.0 && u.is_finite() {
            let p = normal_below(margin / u);
            Truth { best, least: p, most: p }
        } else {
            Truth::certain(best)
        }
    }

    /// Whether `margin` is at least zero, by the law of all that it is uncertain by. JCGM 106:2012, 7.2.
    pub fn at_least_zero(margin: &Uncertain) -> Truth {
        Truth::of_uncertain(margin, margin.value() >= 0.0)
    }

    /// Whether `margin` is above zero, by the same.
    pub fn above_zero(margin: &Uncertain) -> Truth {
        Truth::of_uncertain(margin, margin.value() > 0.0)
    }

    fn of_uncertain(margin: &Uncertain, best: bool) -> Truth {
        let u = margin.standard_uncertainty();
        if !(u > 0.0 && u.is_finite()) {
            return Truth::certain(best);
        }
        let p = probability_below(margin.value(), margin.components());
        Truth { best, least: p, most: p }
    }

    /// Both.
    pub fn and(self, other: Truth) -> Truth {
        Truth {
            best: self.best && other.best,
            least: (self.least + other.least - 1.0).max(0.0),
            most: self.most.min(other.most),
        }
    }

    /// Either.
    pub fn or(self, other: Truth) -> Truth {
        self.not().and(other.not()).not()
    }

    /// The opposite.
    #[allow(clippy::should_implement_trait)]
    pub fn not(self) -> Truth {
        Truth { best: !self.best, least: 1.0 - self.most, most: 1.0 - self.least }
    }

    #[doc = VERDICT!()]
    ///
    /// Else it cannot be told. The confidence is from 0.5 to 1.
    pub fn verdict(self, confidence: f64) -> Verdict {
        if self.least >= confidence {
            Verdict::Pass
        } else if self.most <= 1.0 - confidence {
            Verdict::Fail
        } else {
            Verdict::Unsure
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::SourceId;

    /// Abramowitz and Stegun, Table 26.1 (values from memory), and symmetry.
    #[test]
    fn the_normal_distribution_has_its_table_values() {
        for (z, p) in [(0.0, 0.5), (1.0, 0.841_344_746), (1.644_853_627, 0.95), (1.959_963_985, 0.975)] {
            assert!((normal_below(z) - p).abs() < 1e-9, "{z}");
            assert!((normal_below(-z) - (1.0 - p)).abs() < 1e-9, "-{z}");
        }
        assert!(normal_below(-5.0) > 2.8e-7 && normal_below(-5.0) < 2.9e-7);
    }

    #[test]
    fn bounds_hold_through_and_or_not() {
        let a = Truth { best: true, least: 0.9, most: 0.9 };
        let both = a.and(a);
        assert!((both.least - 0.8).abs() < 1e-12 && (both.most - 0.9).abs() < 1e-12);
        let either = a.or(a);
        assert!((either.least - 0.9).abs() < 1e-12 && (either.most - 1.0).abs() < 1e-12);
        assert_eq!(Truth::certain(true).not(), Truth::certain(false));
    }

    #[test]
    fn both_ends_of_what_cannot_be_told() {
        let with = |least, most| Truth { best: true, least, most };
        let table = [
            (with(0.95, 1.0), Verdict::Pass),
            (with(0.949, 1.0), Verdict::Unsure),
            (with(0.0, 0.25), Verdict::Unsure),
            (with(0.0, 0.04), Verdict::Fail),
            (with(0.0, 1.0), Verdict::Unsure),
            (Truth::at_least_zero(&Uncertain::exact(0.0)), Verdict::Pass),
            (Truth::above_zero(&Uncertain::exact(0.0)), Verdict::Fail),
            (Truth::of_margin(-1.0, 0.5), Verdict::Fail),
            (Truth::of_margin(1.0, 0.5), Verdict::Pass),
            (Truth::of_margin(1.0, f64::INFINITY), Verdict::Pass),
        ];
        for (truth, verdict) in table {
            assert_eq!(truth.verdict(0.95), verdict, "{truth:?}");
        }
        assert_eq!(with(0.0, 0.25).verdict(0.75), Verdict::Fail);
        let even = Uncertain::exact(0.0).with_component(SourceId::Reading(1), 1.0);
        assert_eq!((Truth::at_least_zero(&even).best, Truth::above_zero(&even).best), (true, false));
    }

    #[test]
    fn a_confidence_is_from_three_fifths_to_almost_certain() {
        for (text, expected) in [
            ("60 %", Ok(0.6)),
            ("0.6", Ok(0.6)),
            ("99.9 %", Ok(0.999)),
            ("59.9 %", Err(NoConfidence::OutOfRange)),
            ("0.9991", Err(NoConfidence::OutOfRange)),
            ("95", Err(NoConfidence::OutOfRange)),
        ] {
            assert_eq!(read_confidence(text), expected, "{text}");
        }
        assert!(matches!(read_confidence("sure"), Err(NoConfidence::Unreadable(_))));
    }
}
