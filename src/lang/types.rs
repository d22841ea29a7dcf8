//! Types: a kind, or a series of answers of one kind.

use std::fmt;

use crate::quantity::{Kind, Measure};

/// How a series serves where one value is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Collapse {
    /// The last answer stands (rounds of a `repeat`).
    Last,
    /// The mean stands (several takes of one reading).
    Mean,
    /// It does not (one answer a tank): a function must say which is meant.
    No,
}

/// The type of a name or expression.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Type {
    /// One value.
    One(Kind),
    /// Several answers.
    Series(Kind, Collapse),
}

impl Type {
    /// One value of a measure.
    pub fn measure(measure: Measure) -> Type {
        Type::One(Kind::Measure(measure))
    }

    /// The kind of the value, or of each of the series.
    pub fn kind(&self) -> &Kind {
        match self {
            Type::One(kind) | Type::Series(kind, _) => kind,
        }
    }
}

impl fmt::Display for Type {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Type::One(kind) => kind.fmt(f),
            Type::Series(kind, _) => write!(f, "a series, each {kind}"),
        }
    }
}
