//! When to stop flushing: the stop rule on a series of readings.

use super::{FormulaResult, MessagePart, OutOfRange};
use crate::quantity::Measure;

/// How far a reading may lie from the mean of its run and still count as steady.
const STEADY_WITHIN: f64 = 0.10;

/// What a series of readings says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stabilization {
    /// The last readings are all at or below the floor: nothing more to see.
    AtFloor,
    /// The last readings agree within 10 % but are above the floor: more of the same will not
    /// help, and the source or the tank is to be looked at.
    Steady,
    /// Still changing.
    Changing,
    /// Fewer readings than the rule needs.
    TooFew,
}

formula!(STABILIZATION:
    "How the last n answers have settled.",
    "the last n all at or below the floor, or all within 10 % of their mean; words: all the same",
    range "n at least 2, nothing below zero",
    source "a proposal put together from published rules for purging wells: three readings, turbidity within 10 % (Puls and \
            Barcelona, EPA/540/S-95/504, 1996, from memory), or three below the limit of reading (EPA Region 1, SOP GW 0001, from \
            memory), after three volumes at least (USGS National Field Manual, A4.2); floor: Standard Methods 2540 F"
);

#[doc = STABILIZATION!()]
///
/// It is for readings that cannot be less than zero: settled solids, turbidity, flows, pressures.
///
/// Units: all values and `floor` alike.
///
/// ```
/// use tankhand::physics::{Stabilization, stabilization};
/// assert_eq!(stabilization(&[8.0, 2.0, 0.1, 0.05, 0.0], 3, 0.1), Ok(Stabilization::AtFloor));
/// assert_eq!(stabilization(&[2.0, 1.9, 2.1], 3, 0.1), Ok(Stabilization::Steady));
/// assert_eq!(stabilization(&[2.0], 3, 0.1), Ok(Stabilization::TooFew));
/// ```
pub fn stabilization(values: &[f64], n: usize, floor: f64) -> FormulaResult<Stabilization> {
    if n < 2 {
        return Err(OutOfRange::new(
            "settling is judged on {} reading, which is fewer than 2",
            &[MessagePart::Value(Measure::Count, n as f64)],
            "one reading cannot show a change",
        ));
    }
    for (name, value) in
        values.iter().map(|value| ("a reading", *value)).chain([("the floor of the reading", floor)])
    {
        not_negative(name, value)?;
    }
    let Some(start) = values.len().checked_sub(n) else { return Ok(Stabilization::TooFew) };
    let last = &values[start..];
    let mean = last.iter().map(|value| value / n as f64).sum::<f64>();
    Ok(if last.iter().all(|value| *value <= floor) {
        Stabilization::AtFloor
    } else if last.iter().all(|value| (value - mean).abs() <= STEADY_WITHIN * mean) {
        Stabilization::Steady
    } else {
        Stabilization::Changing
    })
}

/// Readings of amounts must be numbers of zero or more.
pub(crate) fn not_negative(name: &'static str, value: f64) -> FormulaResult<()> {
    if value.is_finite() && value >= 0.0 {
        return Ok(());
    }
    let found = MessagePart::Value(Measure::Number, value);
    Err(OutOfRange::new(
        "{} is {}, and it must be zero or more",
        &[MessagePart::Words(name), found],
        "an amount cannot be less than nothing",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn series_are_judged_by_their_end() {
        let table: [(usize, &[f64], Stabilization); 11] = [
            (3, &[], Stabilization::TooFew),
            (3, &[0.0, 0.0], Stabilization::TooFew),
            (3, &[0.0, 0.0, 0.0], Stabilization::AtFloor),
            (3, &[9.0, 0.1, 0.1, 0.1], Stabilization::AtFloor),
            (3, &[0.1, 0.1, 9.0], Stabilization::Changing),
            (3, &[1.0, 1.0, 1.0], Stabilization::Steady),
            (3, &[1.0, 1.1, 1.2], Stabilization::Steady),
            (3, &[1.0, 1.2, 1.3], Stabilization::Changing),
            (2, &[1.0], Stabilization::TooFew),
            (2, &[9.0, 1.0, 1.1], Stabilization::Steady),
            (2, &[1.0, 1.3], Stabilization::Changing),
        ];
        for (n, values, expected) in table {
            assert_eq!(stabilization(values, n, 0.1), Ok(expected), "{n} of {values:?}");
        }
    }

    #[test]
    fn what_is_no_amount_is_told() {
        assert_eq!(
            stabilization(&[1.0, -1.0, 1.0], 3, 0.1).unwrap_err().to_string(),
            "a reading is -1, and it must be zero or more \
             (an amount cannot be less than nothing)"
        );
        assert_eq!(
            stabilization(&[1.0, 1.0, 1.0], 3, f64::NAN).unwrap_err().to_string(),
            "the floor of the reading is not a number, and it must be zero or more \
             (an amount cannot be less than nothing)"
        );
        assert_eq!(
            stabilization(&[1.0], 1, 0.1).unwrap_err().to_string(),
            "settling is judged on 1 reading, which is fewer than 2 \
             (one reading cannot show a change)"
        );
    }

    proptest! {
        #[test]
        fn only_the_last_readings_count(
            first in proptest::collection::vec(0.0f64..1e6, 0..5),
            last in proptest::collection::vec(0.0f64..3.0, 3)
        ) {
            let all: Vec<f64> = first.into_iter().chain(last.iter().copied()).collect();
            prop_assert_eq!(stabilization(&all, 3, 0.5), stabilization(&last, 3, 0.5));
        }

        #[test]
        fn the_unit_does_not_matter(last in proptest::collection::vec(0.0f64..3.0, 3)) {
            let doubled: Vec<f64> = last.iter().map(|value| value * 2.0).collect();
            prop_assert_eq!(stabilization(&last, 3, 0.5), stabilization(&doubled, 3, 1.0));
        }
    }
}
