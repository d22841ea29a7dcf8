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
    /// Both sides as written, in the canonical spelling.
    pub written: Arc<str>,
    /// The best estimate.
    pub estimate: TypedNode,
    /// How far it may be off, either way.
    pub limit: TypedNode,
    /// The limit is a share of the estimate.
    pub relative: bool,
}

impl TypedNode {
    /// The parts it is made of, in their order.
    pub(super) fn children(&self) -> Vec<&TypedNode> {
        match self {
            TypedNode::Amount(..)
            | TypedNode::Word(_)
            | TypedNode::YesNo(_)
            | TypedNode::Name(_)
            | TypedNode::Known(_) => Vec::new(),
            TypedNode::One(a, _) | TypedNode::Minus(a) | TypedNode::Not(a) => vec![a],
            TypedNode::And(a, b)
            | TypedNode::Or(a, b)
            | TypedNode::Compare(_, a, b)
            | TypedNode::Arithmetic(_, _, a, b)
            | TypedNode::Otherwise(a, b) => vec![a, b],
            TypedNode::If(a, b, c) => vec![a, b, c],
            TypedNode::Series(parts) | TypedNode::Call(_, parts) => parts.iter().collect(),
            TypedNode::Within(within) => vec![&within.estimate, &within.limit],
        }
    }

    /// Calls `visit` for every name it reads (names inside `known` apart), and whether only for the newest of a
    /// series.
    pub(super) fn names(&self, visit: &mut dyn FnMut(&Arc<str>, bool)) {
        match self {
            TypedNode::Name(name) => visit(name, false),
            TypedNode::One(inner, how) => match &**inner {
                TypedNode::Name(name) => visit(name, *how != Collapse::Mean),
                several => several.names(visit),
            },
            other => other.children().into_iter().for_each(|part| part.names(visit)),
        }
    }

    /// A literal, perhaps within limits, with this number in place of its own.
    pub(super) fn with_number(self, amount: TypedNode) -> TypedNode {
        match self {
            TypedNode::Within(mut within) => {
                within.estimate = within.estimate.with_number(amount);
                TypedNode::Within(within)
            }
            _ => amount,
        }
    }

    /// Whether anything in it may be uncertain: what a name stands for, or a `+-`.
    pub(super) fn may_be_uncertain(&self) -> bool {
        matches!(self, TypedNode::Name(_) | TypedNode::Within(_))
            || self.children().into_iter().any(TypedNode::may_be_uncertain)
    }
}
