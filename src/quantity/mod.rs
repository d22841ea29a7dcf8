//! Kinds, units and values with uncertainty: what a number in this trade is.
//!
//! Inside, every value is in SI units (pascal, kelvin, cubic metre, second …); units appear only
//! where a person types or reads.

mod arithmetic;
mod kind;
mod law;
mod measure;
mod random;
mod read;
mod scalar;
mod show;
mod source;
mod truth;
mod uncertain;
mod unit;
mod unreadable;
mod written;

pub use arithmetic::{Operator, result_of};
pub use kind::Kind;
pub(crate) use kind::Words;
#[cfg(test)]
pub(crate) use law::normal_below;
pub(crate) use law::standard;
pub use measure::{Family, Measure};
pub(crate) use random::{Random, even_points};
pub use read::{Typed, read_number, read_pair, read_with_limit};
pub(crate) use read::{from_vacuum, on_a_gauge};
pub use scalar::Scalar;
pub(crate) use show::show_in;
pub use show::{Units, show, show_briefly, show_in_with_limits, show_number, show_roundly, show_with_limits};
pub(crate) use source::Shape;
pub use source::{SourceId, rectangular_u};
pub(crate) use truth::{CONFIDENCE, CONFIDENCES, FORMULA_CONFIDENCES, VERDICT};
pub use truth::{NoConfidence, Truth, Verdict, read_confidence};
pub(crate) use uncertain::STANDARD_UNCERTAINTY;
pub use uncertain::Uncertain;
pub(crate) use unit::{DAY, HOUR, POUND, STANDARD_ATMOSPHERE, YEAR};
pub use unit::{GALLON, GPM, HORSEPOWER, PSI, UNITS, Unit, unit, unit_at_start};
pub use unreadable::Unreadable;
pub(crate) use written::{NumberPlace, clock_at_start, fraction_at_start, number_at_start};
