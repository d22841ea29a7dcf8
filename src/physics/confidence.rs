//! How far a value may be off at a given confidence: factors for its standard uncertainty.

use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

use super::limits::CONFIDENCE;
use super::{FormulaResult, OutOfRange};
use crate::quantity::Uncertain;

/// How many standard uncertainties a value may be off on one side, at a confidence.
///
/// The quantile of the normal distribution: 1.645 at 95 %. For an interval with the same risk on
/// both sides ask for half the risk: 97.5 % gives the 1.96 of a two-sided 95 %.
///
/// Units: a probability to a factor. Range: 50 % to 99.99 %. Source: JCGM 106:2012, 8.3 (guarded
/// acceptance, one tolerance limit); normal distribution (textbook).
///
/// ```
/// use tankhand::physics::one_sided;
/// assert!((one_sided(0.95).unwrap() - 1.6449).abs() < 1e-4);
/// assert!((one_sided(0.975).unwrap() - 1.9600).abs() < 1e-4);
/// ```
pub fn one_sided(confidence: f64) -> FormulaResult<f64> {
    CONFIDENCE.check("the confidence", &confidence)?;
    Ok(Normal::standard().inverse_cdf(confidence))
}

/// The middles of so many slices of equal probability of the normal distribution, in standard
/// uncertainties: what tests count over in place of draws.
#[cfg(test)]
pub(super) fn slices(count: u32) -> Vec<f64> {
    let middle = |at: u32| (f64::from(at) + 0.5) / f64::from(count);
    (0..count).map(|at| Normal::standard().inverse_cdf(middle(at))).collect()
}

/// The same factor where the standard uncertainty is itself known only from a few readings.
///
/// The quantile of Student's t: 6.31 at 95 % with one degree of freedom, 1.645 with many.
///
/// Units: a probability and a count to a factor. Range: 50 % to 99.99 %, at least one degree of
/// freedom. Source: JCGM 100:2008, G.3; Student's t (textbook).
///
/// ```
/// use tankhand::physics::one_sided_of_few;
/// assert!((one_sided_of_few(0.975, 3).unwrap() - 3.1824).abs() < 1e-4);
/// ```
pub fn one_sided_of_few(confidence: f64, degrees: usize) -> FormulaResult<f64> {
    CONFIDENCE.check("the confidence", &confidence)?;
    if degrees == 0 {
        return Err(OutOfRange::new("no degree of freedom is left to judge the scatter by", &[], FEW));
    }
    let scattered = StudentsT::new(0.0, 1.0, degrees as f64)
        .map_err(|_| OutOfRange::new("there are too many readings", &[], FEW))?;
    Ok(scattered.inverse_cdf(confidence))
}

/// Standard uncertainties on one side at a confidence, for effective degrees of freedom, which may be
/// broken or without end and are rounded down (JCGM 100:2008, G.4.1).
///
/// Units: probability. Range: confidence 0.5 to 0.9999. Source: JCGM 100:2008, G.3 and G.4.
///
/// ```
/// use tankhand::physics::one_sided_at;
/// assert!((one_sided_at(0.95, f64::INFINITY).unwrap() - 1.645).abs() < 0.001);
/// assert!((one_sided_at(0.95, 2.9).unwrap() - 2.920).abs() < 0.001);
/// ```
pub fn one_sided_at(confidence: f64, degrees: f64) -> FormulaResult<f64> {
    // More than so many make no difference.
    if (1.0..1e3).contains(&degrees) {
        one_sided_of_few(confidence, degrees as usize)
    } else {
        one_sided(confidence)
    }
}

formula!(ONE_SIDED_LIMIT:
    "How far a value may be off on one side.",
    "k × uncertainty_of(x), k = 1.645 at 95 %, more for few readings",
    range "a confidence of 50 % to 99.99 %",
    source "JCGM 106:2012, 8.3 (clause from memory); normal distribution, or Student's t (JCGM 100:2008, G.4)"
);

#[doc = ONE_SIDED_LIMIT!()]
///
/// k is [`one_sided_at`] of the value's degrees of freedom. Units: those of the value.
///
/// ```
/// use tankhand::physics::one_sided_limit;
/// use tankhand::quantity::{SourceId, Uncertain};
/// let read = Uncertain::exact(38.0).with_component(SourceId::Gauge(1), 2.0);
/// assert!((one_sided_limit(&read, 0.95).unwrap() - 3.29).abs() < 0.001);
/// ```
pub fn one_sided_limit(x: &Uncertain, confidence: f64) -> FormulaResult<f64> {
    Ok(one_sided_at(confidence, x.degrees_of_freedom())? * x.standard_uncertainty())
}

formula!(UNCERTAINTY_BETWEEN:
    "How far the difference of two values may be off on one side.",
    "k × uncertainty_of(a - b), k = 1.645 at 95 %, more for few readings",
    range "a confidence of 50 % to 99.99 %",
    source "JCGM 100:2008, 5.2; JCGM 106:2012, 8.3 (clause from memory)"
);

#[doc = UNCERTAINTY_BETWEEN!()]
///
/// What both share cancels. Units: those of the values.
///
/// ```
/// use tankhand::physics::uncertainty_between;
/// use tankhand::quantity::{SourceId, Uncertain};
/// let read = |gauge| Uncertain::exact(38.0).with_component(SourceId::Gauge(gauge), 2.0);
/// assert_eq!(uncertainty_between(read(1), read(1), 0.95), Ok(0.0));
/// assert!((uncertainty_between(read(1), read(2), 0.95).unwrap() - 4.652).abs() < 0.001);
/// ```
pub fn uncertainty_between(a: Uncertain, b: Uncertain, confidence: f64) -> FormulaResult<f64> {
    one_sided_limit(&(a - b), confidence)
}

const FEW: &str = "JCGM 100:2008, G.3: at least one reading more than numbers fitted";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::normal_below;
    use proptest::prelude::*;

    /// The oracle: the distribution in closed form (Abramowitz and Stegun, *Handbook of Mathematical
    /// Functions*, 26.7.3 and 26.7.4).
    fn student_below(t: f64, degrees: usize) -> f64 {
        let (sine, cosine) = (t / (degrees as f64).sqrt()).atan().sin_cos();
        let odd = degrees % 2 == 1;
        let (mut term, mut sum) = if odd { (cosine, 0.0) } else { (1.0, 0.0) };
        for power in (usize::from(odd)..degrees.saturating_sub(1)).step_by(2) {
            sum += term;
            let k = (power + 1) as f64;
            term *= cosine * cosine * k / (k + 1.0);
        }
        let angle = sine.atan2(cosine);
        let between = if odd { (angle + sine * sum) * std::f64::consts::FRAC_2_PI } else { sine * sum };
        0.5 + 0.5 * between
    }

    proptest! {
        #[test]
        fn the_factor_grows_with_confidence_and_shrinks_with_readings(p in 0.5f64..0.999, n in 1usize..40) {
            prop_assert!(one_sided(p).unwrap() < one_sided(p + 0.0005).unwrap());
            let (few, more) = (one_sided_of_few(p, n).unwrap(), one_sided_of_few(p, n + 1).unwrap());
            prop_assert!(few >= more - 1e-9 && more >= one_sided(p).unwrap() - 1e-9);
            prop_assert!((normal_below(one_sided(p).unwrap()) - p).abs() < 1e-9);
            prop_assert!((student_below(few, n) - p).abs() < 1e-9);
        }
    }

    /// JCGM 100:2008, Table G.2, 95 % either way (from memory): degrees of freedom are rounded down, to one at the least.
    #[test]
    fn few_degrees_of_freedom_ask_for_the_factor_of_the_table() {
        for (degrees, expected) in [
            (1.0, 12.71),
            (1.99, 12.71),
            (2.0, 4.30),
            (3.0, 3.18),
            (10.0, 2.23),
            (30.0, 2.04),
            (1e3, 1.96),
            (f64::INFINITY, 1.96),
        ] {
            let found = one_sided_at(0.975, degrees).unwrap();
            assert!((found - expected).abs() < 0.006, "{degrees}: {found}");
        }
    }

    #[test]
    fn a_confidence_that_is_none_is_told() {
        assert_eq!(
            one_sided(95.0).unwrap_err().to_string(),
            "the confidence, 95, is not between 0.5 and 0.9999 \
             (below a half no confidence is meant, and 1 is never reached)"
        );
        assert_eq!(
            one_sided_of_few(0.95, 0).unwrap_err().to_string(),
            "no degree of freedom is left to judge the scatter by \
             (JCGM 100:2008, G.3: at least one reading more than numbers fitted)"
        );
    }
}
