//! What a gauge's limits of error and its graduation are worth as standard uncertainties.

use super::limits::GAUGE_ERROR;
use super::{FormulaResult, MessagePart, OutOfRange};
use crate::quantity::Measure;

/// Standard uncertainty of a limit of error: `limit / √3`.
///
/// For a quantity known to lie within ± `limit` and as likely anywhere there.
///
/// Units: any, kept. Range: zero or more. Source: JCGM 100:2008, 4.3.7.
///
/// ```
/// use tankhand::physics::from_limit_of_error;
/// assert!((from_limit_of_error(2.0).unwrap() - 1.1547).abs() < 1e-4);
/// ```
pub fn from_limit_of_error(limit: f64) -> FormulaResult<f64> {
    not_negative("the limit of error", limit)?;
    Ok(limit / 3f64.sqrt())
}

/// Standard uncertainty of a reading rounded to a step: `step / √12`.
///
/// Units: any, kept. Range: zero or more. Source: JCGM 100:2008, F.2.2.1.
///
/// ```
/// use tankhand::physics::from_resolution;
/// assert!((from_resolution(2.0).unwrap() - 0.5774).abs() < 1e-4);
/// ```
pub fn from_resolution(step: f64) -> FormulaResult<f64> {
    not_negative("the smallest step of the reading", step)?;
    Ok(step / 12f64.sqrt())
}

fn not_negative(name: &'static str, value: f64) -> FormulaResult<()> {
    if (0.0..=GAUGE_ERROR).contains(&value) {
        return Ok(());
    }
    Err(OutOfRange::new(
        "{} is {}, and it must be zero or more",
        &[MessagePart::Words(name), MessagePart::Value(Measure::Number, value)],
        "JCGM 100:2008, 4.3.7",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_limit_is_told() {
        assert_eq!(
            from_limit_of_error(-1.0).unwrap_err().to_string(),
            "the limit of error is -1, and it must be zero or more \
             (JCGM 100:2008, 4.3.7)"
        );
        assert!(from_resolution(f64::NAN).is_err() && from_resolution(0.0) == Ok(0.0));
    }
}
