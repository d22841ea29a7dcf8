//! The one error of this layer: a value outside the range where a formula holds.
//!
//! It keeps the values apart from the words, so that the household's own units appear in the
//! sentence.

use std::fmt;

use crate::quantity::{Measure, Scalar, Uncertain, Units, show};

/// What a formula yields: a value, or the reason there is none.
pub type FormulaResult<S> = Result<S, OutOfRange>;

/// What stands in for one `{}` of the sentence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum MessagePart {
    /// A name, such as `the precharge`.
    Words(&'static str),
    /// A value in SI units.
    Value(Measure, f64),
}

/// Why a formula refuses: what is out of range, the limit, and where the limit comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct OutOfRange {
    sentence: &'static str,
    slots: Vec<MessagePart>,
    /// Where the limit comes from.
    pub source: &'static str,
}

impl OutOfRange {
    /// An error whose sentence has one `{}` for each slot.
    pub(crate) fn new(sentence: &'static str, slots: &[MessagePart], source: &'static str) -> OutOfRange {
        debug_assert_eq!(sentence.matches("{}").count(), slots.len(), "{sentence}");
        OutOfRange { sentence, slots: slots.to_vec(), source }
    }

    /// The sentence, with its values in the units of the house, and where the limit comes from.
    ///
    /// ```
    /// use tankhand::physics::drawdown;
    /// use tankhand::quantity::Units;
    /// let fault = drawdown(0.1, 200e3, 400e3, 300e3, 0.0).unwrap_err();
    /// assert_eq!(
    ///     fault.say(Units::Metric),
    ///     "the cut-in, 4 bar, is not below the cut-out, 3 bar \
    ///      (a pump starts at the cut-in and stops at the higher cut-out)"
    /// );
    /// ```
    pub fn say(&self, units: Units) -> String {
        let mut slots = self.slots.iter();
        let mut text = String::new();
        for (i, piece) in self.sentence.split("{}").enumerate() {
            if i > 0 {
                text += &slots.next().map(|slot| slot.say(units)).unwrap_or_default();
            }
            text += piece;
        }
        format!("{text} ({})", self.source)
    }
}

impl MessagePart {
    fn say(self, units: Units) -> String {
        match self {
            MessagePart::Words(words) => words.to_string(),
            MessagePart::Value(_, value) if !value.is_finite() => "not a number".to_string(),
            MessagePart::Value(measure, value) => show(measure, &Uncertain::exact(value), units),
        }
    }
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.say(Units::default()))
    }
}

// Not derived: a derived one would take `source` for an error beneath this one.
impl std::error::Error for OutOfRange {}

/// The slot that shows a value.
pub(crate) fn value<S: Scalar>(measure: Measure, value: &S) -> MessagePart {
    MessagePart::Value(measure, value.value())
}

/// The slot that shows a gauge pressure.
pub(crate) fn pressure<S: Scalar>(pressure: &S) -> MessagePart {
    value(Measure::Pressure, pressure)
}

/// The cut-in must lie below the cut-out.
pub(crate) fn in_order<S: Scalar>(cut_in: &S, cut_out: &S) -> FormulaResult<()> {
    if cut_in.value() < cut_out.value() {
        return Ok(());
    }
    Err(OutOfRange::new(
        "the cut-in, {}, is not below the cut-out, {}",
        &[pressure(cut_in), pressure(cut_out)],
        "a pump starts at the cut-in and stops at the higher cut-out",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sentence_speaks_the_units_of_the_house() {
        let fault = OutOfRange::new(
            "{} is {}",
            &[
                MessagePart::Words("the precharge"),
                MessagePart::Value(Measure::Pressure, 68_947.572_931_683_61),
            ],
            "a test",
        );
        assert_eq!(
            fault.say(Units::Us),
            "the precharge is 10 psi \
             (a test)"
        );
        assert_eq!(
            fault.say(Units::Metric),
            "the precharge is 0.68948 bar \
             (a test)"
        );
        assert_eq!(
            fault.to_string(),
            "the precharge is 10 psi \
             (a test)"
        );
    }

    #[test]
    fn a_missing_number_is_said_in_words() {
        let fault = OutOfRange::new(
            "the precharge is {}",
            &[MessagePart::Value(Measure::Pressure, f64::NAN)],
            "a test",
        );
        assert_eq!(
            fault.to_string(),
            "the precharge is not a number \
             (a test)"
        );
    }
}
