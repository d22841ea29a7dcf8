//! Words that the options of several commands take.

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};

use super::OutputForm;
use crate::quantity::Units;

/// The words that an argument takes: each with its meaning, where that needs telling, and what it stands for.
pub(crate) type ArgumentWords<T> = &'static [(&'static str, Option<&'static str>, T)];

/// Units to show and to take bare numbers in.
pub(crate) const UNITS: ArgumentWords<Units> = &[
    ("us", Some("psi, gallons, °F, feet"), Units::Us),
    ("metric", Some("bar, litres, °C, metres"), Units::Metric),
];

/// Pages for people, or JSON for programs.
pub(crate) const FORMATS: ArgumentWords<OutputForm> =
    &[("text", None, OutputForm::Text), ("json", None, OutputForm::Json)];

/// Takes one of the words of a table for what it stands for.
pub(crate) fn one_of<T: Copy + Send + Sync>(words: ArgumentWords<T>) -> impl TypedValueParser<Value = T> {
    let known = words.iter().map(|(word, means, _)| {
        let value = PossibleValue::new(*word);
        if let Some(means) = means { value.help(*means) } else { value }
    });
    let stands_for = move |typed: String| {
        let row = words.iter().find(|(word, ..)| *word == typed);
        row.map(|(.., value)| *value).ok_or("it is none of the words")
    };
    PossibleValuesParser::new(known).try_map(stands_for)
}
