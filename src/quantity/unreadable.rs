//! Why a number cannot be read, in sentences.

use thiserror::Error;

use super::{Family, Unit};
use crate::words::list;

/// Why a text is not a number of the wanted family.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum Unreadable {
    /// Nothing was typed.
    #[error("Nothing was typed.")]
    Empty,
    /// No number at its start.
    #[error("`{0}` does not begin with a number.")]
    NoNumber(String),
    /// Digits whose points and commas make no number.
    #[error("The points or commas of `{0}` are not where a number has them: write it as 1234.5.")]
    Marks(String),
    /// Two numbers where one is wanted.
    #[error("`{0}` is two numbers, and one is wanted.")]
    Two(String),
    /// Written as a watch shows it where none is wanted, or with more than 59 seconds.
    #[error("`{}` {}.", .0, clock_hint(*.1))]
    Clock(String, Family),
    /// One number where two are wanted.
    #[error("`{0}` is one number, and two are wanted, such as 30/50.")]
    Single(String),
    /// A number without a unit behind one that has a unit.
    #[error("`{0}` lacks the unit of its second number.")]
    SecondUnit(String),
    /// The comma may part thousands or decimals: both readings.
    #[error("The comma can mean two things here: write {0} or {1}.")]
    Comma(String, String),
    /// The unit is not known; what may have been meant.
    #[error("`{}` is no unit known here{}", .0, perhaps(*.1))]
    UnknownUnit(String, Option<&'static str>),
    /// A unit of another family.
    #[error(
        "{} measures {}, and {} is wanted: {}.",
        .0.symbol,
        .0.family.usual().phrase(),
        .1.usual().phrase(),
        list(common_units(*.1), "or"),
    )]
    OtherFamily(&'static Unit, Family),
    /// Counted from vacuum: as typed, and what a gauge at sea level shows then.
    #[error("`{0}` counts from vacuum, and gauges count from the air around them: {1} at sea level.")]
    FromVacuum(String, String),
    /// A limit in percent behind a percentage: as a share of it, and as points of percent.
    #[error(
        "The limit of a percentage can mean two things here: write +- {0} for the share, or +- {1} for the points."
    )]
    PercentOfPercent(String, String),
    /// Too large to be meant.
    #[error("`{0}` is too large to be a reading.")]
    TooLarge(String),
}

/// What is the matter with what is written as a watch shows it.
fn clock_hint(family: Family) -> String {
    if family == Family::Time {
        return "is no time: write minutes and seconds as 1:05".to_string();
    }
    format!("is written as a time, and {} is wanted", family.usual().phrase())
}

/// How the sentence on an unknown unit ends.
fn perhaps(meant: Option<&str>) -> String {
    meant.map_or_else(|| ".".to_string(), |known| format!("; did you mean `{known}`?"))
}

/// The units a person is most likely to use, for messages.
fn common_units(family: Family) -> Vec<&'static str> {
    let all = super::UNITS.iter().filter(|u| u.family == family).map(|u| u.symbol);
    all.take(5).collect()
}
