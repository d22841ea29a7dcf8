//! Whether first order is exact: sums and differences of readings, and shares of them.

use std::sync::Arc;

use super::check::CheckedExpr;
use super::eval::value;
use super::part::TypedNode;
use super::{Ancestry, Value};
use crate::quantity::Operator;

/// Whether the value of a part is a linear function of the readings. `derived` are the values
/// to be traced to what they were worked out by.
pub(super) fn is_linear(
    part: &TypedNode,
    values: &dyn Ancestry,
    derived: &[(Arc<str>, &CheckedExpr)],
) -> bool {
    let linear = |part: &TypedNode| is_linear(part, values, derived);
    match part {
        TypedNode::Amount(..) | TypedNode::Word(_) | TypedNode::YesNo(_) => true,
        TypedNode::Name(name) => {
            let formula = derived.iter().find(|(known, _)| known == name);
            formula.is_none_or(|(_, formula)| linear(&formula.part))
        }
        TypedNode::One(inner, _) | TypedNode::Minus(inner) => linear(inner),
        TypedNode::Otherwise(a, b) => linear(a) && linear(b),
        TypedNode::Series(parts) => parts.iter().all(linear),
        TypedNode::Arithmetic(operator, _, a, b) => {
            let nonlinear = match operator {
                Operator::Add | Operator::Subtract => false,
                Operator::Multiply => is_uncertain(a, values) && is_uncertain(b, values),
                Operator::Divide => is_uncertain(b, values),
            };
            !nonlinear && linear(a) && linear(b)
        }
        _ => false,
    }
}

fn is_uncertain(part: &TypedNode, values: &dyn Ancestry) -> bool {
    !matches!(value(part, values), Ok(Value::Amount(_, amount)) if amount.components().is_empty())
}
