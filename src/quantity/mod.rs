//! Kinds, units and values with uncertainty: what a number in this trade is.
//!
//! Inside, every value is in SI units (pascal, kelvin, cubic metre, second …); units appear only
//! where a person types or reads.

mod arithmetic;
mod kind;
mod measure;
mod read;
mod scalar;
mod show;
mod truth;
mod uncertain;
mod unit;

pub use arithmetic::{Operator, result_of};
pub use kind::{Kind, Words};
pub use measure::{Family, Measure};
pub use read::{Typed, Unreadable, read_number};
pub use scalar::Scalar;
pub use show::{
    Units, show, show_briefly, show_in, show_in_with_limits, show_number, show_roundly, show_with_limits,
};
pub(crate) use truth::normal_below;
pub use truth::{CONFIDENCE, NoConfidence, Truth, Verdict, read_confidence};
pub use uncertain::{Shape, SourceId, Uncertain};
pub use unit::{DAY, GALLON, PSI, UNITS, Unit, unit, unit_at_start};
