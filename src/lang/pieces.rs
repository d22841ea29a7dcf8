//! What stands inside an expression, evaluated by itself: the two sides of a comparison, the
//! arguments of a call. Reports show how far a check was from failing, and what a formula was
//! fed with.

use super::eval::compare;
use super::part::TypedNode;
use super::{CheckedExpr, Comparison, Value, Values};
use crate::quantity::{Measure, Truth, Uncertain};

impl CheckedExpr {
    /// Of a comparison that asks which of two amounts is larger: by how much it holds. Below zero
    /// it does not hold. `None` for any other expression, and where a side is not known.
    pub fn margin(&self, values: &dyn Values) -> Option<(Measure, Uncertain)> {
        let TypedNode::Compare(comparison, a, b) = &*self.part else { return None };
        let sides = (super::eval::value(a, values).ok()?, super::eval::value(b, values).ok()?);
        let (Value::Amount(measure, a), Value::Amount(_, b)) = sides else { return None };
        let margin = match comparison {
            Comparison::Less | Comparison::AtMost => b - a,
            Comparison::More | Comparison::AtLeast => a - b,
            Comparison::Equal | Comparison::Unequal => return None,
        };
        Some((measure.difference(), margin))
    }

    /// Of a comparison of a measured value with one that is given: what it would come to with the measured
    /// value grown by a factor and as uncertain as it is. `None` for any other expression.
    pub fn grown(&self, values: &dyn Values, factor: f64) -> Option<Truth> {
        let TypedNode::Compare(comparison, a, b) = &*self.part else { return None };
        if a.may_be_uncertain() == b.may_be_uncertain() {
            return None;
        }
        let side = |part: &TypedNode| match super::eval::value(part, values) {
            Ok(Value::Amount(measure, amount)) if part.may_be_uncertain() => {
                let grown = factor * amount.value();
                Some(Value::Amount(measure, amount.map(grown, 1.0)))
            }
            other => other.ok(),
        };
        compare(*comparison, side(a)?, side(b)?).ok()
    }

    /// The arguments of the first call of a function in the expression, as many of them as are
    /// known; `None` when it calls no such function, or not all are known.
    pub fn arguments(&self, function: &str, values: &dyn Values) -> Option<Vec<Value>> {
        let arguments = call(&self.part, function)?;
        arguments.iter().map(|part| super::eval::value(part, values).ok()).collect()
    }

    /// Whether a function is called in the expression.
    pub fn calls(&self, function: &str) -> bool {
        call(&self.part, function).is_some()
    }

    /// The name that stands by itself as an argument of the first call of a function.
    pub fn name_in_call(&self, function: &str, at: usize) -> Option<&str> {
        let mut part = call(&self.part, function)?.get(at)?;
        while let TypedNode::One(inner, _) = part {
            part = inner;
        }
        if let TypedNode::Name(name) = part { Some(name) } else { None }
    }
}

/// The arguments of the first call of a function.
fn call<'a>(part: &'a TypedNode, name: &str) -> Option<&'a [TypedNode]> {
    match part {
        TypedNode::Call(function, arguments) if function.name == name => Some(arguments),
        _ => part.children().into_iter().find_map(|part| call(part, name)),
    }
}
