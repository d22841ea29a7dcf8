//! A checked expression as a tree: every part of one kind, names and functions found.

use std::sync::Arc;

use super::{Collapse, Comparison, Function};
use crate::quantity::{Measure, Operator, SourceId};

/// A part of a checked expression.
#[derive(Clone, Debug)]
pub(super) enum TypedNode {
    Amount(Measure, f64),
    Word(Arc<str>),
    YesNo(bool),
    Name(Arc<str>),
    Known(Arc<str>),
    One(Box<TypedNode>, Collapse),
    Minus(Box<TypedNode>),
    Not(Box<TypedNode>),
    And(Box<TypedNode>, Box<TypedNode>),
    Or(Box<TypedNode>, Box<TypedNode>),
    Compare(Comparison, Box<TypedNode>, Box<TypedNode>),
    Within(Box<Within>),
    Arithmetic(Operator, Measure, Box<TypedNode>, Box<TypedNode>),
    If(Box<TypedNode>, Box<TypedNode>, Box<TypedNode>),
    Otherwise(Box<TypedNode>, Box<TypedNode>),
    Series(Vec<TypedNode>),
    Call(&'static Function, Vec<TypedNode>),
}

/// What stands around a `+-`.
#[derive(Clone, Debug)]
pub(super) struct Within {
    /// The identity of the uncertainty.
    pub source: SourceId,
    /// Where the sign stands in its expression.
    pub at: usize,
    /// Both sides as written, in the canonical spelling.
    pub written: Arc<str>,
    /// The best estimate.
    pub estimate: TypedNode,
    /// How far it may be off, either way.
    pub limit: TypedNode,
    /// The limit is a share of the estimate.
    pub relative: bool,
}
