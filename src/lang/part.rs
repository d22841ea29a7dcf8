//! A checked expression as a tree: every part of one kind, names and functions found.

use std::sync::Arc;

use super::{Collapse, Comparison, Function};
use crate::quantity::{Measure, Operator, SourceId};

/// A part of a checked expression.
#[derive(Clone, Debug)]
pub(super) enum Part {
    Amount(Measure, f64),
    Word(Arc<str>),
    YesNo(bool),
    Name(Arc<str>),
    Known(Arc<str>),
    One(Box<Part>, Collapse),
    Minus(Box<Part>),
    Not(Box<Part>),
    And(Box<Part>, Box<Part>),
    Or(Box<Part>, Box<Part>),
    Compare(Comparison, Box<Part>, Box<Part>),
    Within(Box<Within>),
    Arithmetic(Operator, Measure, Box<Part>, Box<Part>),
    If(Box<Part>, Box<Part>, Box<Part>),
    Otherwise(Box<Part>, Box<Part>),
    Series(Vec<Part>),
    Call(&'static Function, Vec<Part>),
}

/// What stands around a `+-`.
#[derive(Clone, Debug)]
pub(super) struct Within {
    /// The identity of the doubt.
    pub source: SourceId,
    /// Where the sign stands in its expression.
    pub at: usize,
    /// Both sides as written, in the settled spelling.
    pub written: Arc<str>,
    /// The best estimate.
    pub estimate: Part,
    /// How far it may be off, either way.
    pub limit: Part,
    /// The limit is a share of the estimate.
    pub relative: bool,
}
