//! `a +- b`: a value known to lie within limits, each occurrence a source of uncertainty of its own.
//!
//! Nothing more is known than the limits, so the distribution is rectangular and the standard
//! uncertainty is the limit by √3 (JCGM 100:2008, 4.3.7). The source's identity is made from its
//! place in the file, so that working the expression out twice gives the same value, and the
//! same place is one source in every round of a loop.

use super::part::{TypedNode, Within};
use crate::quantity::SourceId;
use crate::source::Quoted;

impl Within {
    /// The source of an expression that stands in `origin`, or by itself.
    pub fn identify(&mut self, origin: Option<&Quoted>) {
        let (name, start) = origin.map_or(("", 0), |quoted| (quoted.source.name(), quoted.span.start));
        self.source = SourceId::limit_at((name, start, self.at, &self.written));
    }
}

impl TypedNode {
    /// Calls `visit` for every `+-` in the part.
    pub(super) fn each_limit(&mut self, visit: &mut dyn FnMut(&mut Within)) {
        match self {
            TypedNode::Amount(..)
            | TypedNode::Word(_)
            | TypedNode::YesNo(_)
            | TypedNode::Name(_)
            | TypedNode::Known(_) => {}
            TypedNode::One(a, _) | TypedNode::Minus(a) | TypedNode::Not(a) => a.each_limit(visit),
            TypedNode::And(a, b)
            | TypedNode::Or(a, b)
            | TypedNode::Compare(_, a, b)
            | TypedNode::Arithmetic(_, _, a, b)
            | TypedNode::Otherwise(a, b) => {
                a.each_limit(visit);
                b.each_limit(visit);
            }
            TypedNode::If(a, b, c) => [a, b, c].into_iter().for_each(|part| part.each_limit(visit)),
            TypedNode::Series(parts) | TypedNode::Call(_, parts) => {
                parts.iter_mut().for_each(|part| part.each_limit(visit));
            }
            TypedNode::Within(within) => {
                within.estimate.each_limit(visit);
                within.limit.each_limit(visit);
                visit(within);
            }
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
}
