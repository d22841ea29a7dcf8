//! Where values come from, as whoever evaluates an expression tells it.

use super::{Checked, Values};
use crate::quantity::SourceId;

/// How the error that a source stands for is distributed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// As likely anywhere within its limits: a gauge's accuracy, a graduation (JCGM 101:2008, 6.4.2).
    Rectangular,
    /// Normally: the spread of repeated readings, a fit (JCGM 101:2008, 6.4.7).
    Normal,
}

/// Names with their values, and where those come from.
pub trait Ancestry: Values {
    /// The expression a value was worked out by, when it was.
    fn formula(&self, name: &str) -> Option<&Checked>;

    /// How the error of a source is distributed.
    fn shape(&self, source: SourceId) -> Shape;
}
