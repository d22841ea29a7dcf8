//! Kinds: what an answer may be, measures among them.

use std::fmt;
use std::sync::Arc;

use super::Measure;

/// The words of a one-of kind, in their order.
pub(crate) type Words = Arc<[Arc<str>]>;

/// What a value is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A number with a unit (or a plain number).
    Measure(Measure),
    /// Yes or no.
    YesNo,
    /// Free text.
    Text,
    /// One of the listed words.
    OneOf(Words),
}

impl Kind {
    /// A one-of kind from its words.
    pub fn one_of<S: AsRef<str>>(words: &[S]) -> Kind {
        Kind::OneOf(words.iter().map(|word| Arc::from(word.as_ref())).collect())
    }

    /// The kind a procedure file names: a measure, `yes/no` or `text`.
    ///
    /// ```
    /// use tankhand::quantity::{Kind, Measure};
    /// assert_eq!(Kind::named("pressure change"), Some(Kind::Measure(Measure::PressureChange)));
    /// assert_eq!(Kind::named("yes/no"), Some(Kind::YesNo));
    /// assert_eq!(Kind::named("speed"), None);
    /// ```
    pub fn named(name: &str) -> Option<Kind> {
        match name {
            "yes/no" => Some(Kind::YesNo),
            "text" => Some(Kind::Text),
            _ => Measure::named(name).map(Kind::Measure),
        }
    }

    /// The measure, when it is a number.
    pub fn measure(&self) -> Option<Measure> {
        match self {
            Kind::Measure(measure) => Some(*measure),
            Kind::YesNo | Kind::Text | Kind::OneOf(_) => None,
        }
    }

    /// Every name [`Kind::named`] knows.
    pub fn names() -> Vec<&'static str> {
        Measure::all().map(Measure::name).chain(["yes/no", "text"]).collect()
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Kind::Measure(measure) => f.write_str(measure.phrase()),
            Kind::YesNo => f.write_str("a yes or no"),
            Kind::Text => f.write_str("a text"),
            Kind::OneOf(words) => {
                let words: Vec<String> = words.iter().map(|word| format!("'{word}'")).collect();
                write!(f, "one of {}", words.join(", "))
            }
        }
    }
}
