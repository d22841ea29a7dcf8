//! What stands inside an expression, evaluated by itself: the two sides of a comparison, the
//! arguments of a call. Reports show how far a check was from failing, and what a formula was
//! fed with.

use super::part::Part;
use super::{Checked, Comparison, Value, Values};
use crate::quantity::{Measure, Uncertain};

impl Checked {
    /// Of a comparison that asks which of two amounts is larger: by how much it holds. Below zero
    /// it does not hold. `None` for any other expression, and where a side is not known.
    pub fn margin(&self, values: &dyn Values) -> Option<(Measure, Uncertain)> {
        margin(&self.part, values)
    }

    /// The arguments of the first call of a function in the expression, as many of them as are
    /// known; `None` when it calls no such function, or not all are known.
    pub fn arguments(&self, function: &str, values: &dyn Values) -> Option<Vec<Value>> {
        let arguments = call(&self.part, function)?;
        arguments.iter().map(|part| super::eval::value(part, values).ok()).collect()
    }
}

fn margin(part: &Part, values: &dyn Values) -> Option<(Measure, Uncertain)> {
    match part {
        Part::Compare(comparison, a, b) => {
            let (Value::Amount(measure, a), Value::Amount(_, b)) =
                (super::eval::value(a, values).ok()?, super::eval::value(b, values).ok()?)
            else {
                return None;
            };
            let margin = match comparison {
                Comparison::Less | Comparison::AtMost => b - a,
                Comparison::More | Comparison::AtLeast => a - b,
                Comparison::Equal | Comparison::Unequal => return None,
            };
            Some((measure.difference(), margin))
        }
        _ => None,
    }
}

/// The arguments of the first call of a function.
fn call<'a>(part: &'a Part, name: &str) -> Option<&'a [Part]> {
    let first = |parts: &[&'a Part]| parts.iter().find_map(|part| call(part, name));
    match part {
        Part::Call(function, arguments) if function.name == name => Some(arguments),
        Part::Call(_, parts) | Part::Series(parts) => parts.iter().find_map(|part| call(part, name)),
        Part::One(inner, _) | Part::Minus(inner) | Part::Not(inner) => call(inner, name),
        Part::And(a, b)
        | Part::Or(a, b)
        | Part::Compare(_, a, b)
        | Part::Arithmetic(_, _, a, b)
        | Part::Otherwise(a, b) => first(&[a, b]),
        Part::If(a, b, c) => first(&[a, b, c]),
        Part::Within(within) => first(&[&within.estimate, &within.limit]),
        Part::Amount(..) | Part::Word(_) | Part::YesNo(_) | Part::Name(_) | Part::Known(_) => None,
    }
}
