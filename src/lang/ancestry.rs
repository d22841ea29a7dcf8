//! Where values come from, as whoever evaluates an expression tells it.

use super::{CheckedExpr, Values};

/// Names with their values, and where those come from.
pub trait Ancestry: Values {
    /// The expression a value was worked out by, when it was.
    fn formula(&self, name: &str) -> Option<&CheckedExpr>;
}
