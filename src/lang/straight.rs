//! Whether first order is exact: sums and differences of readings, and shares of them.

use super::check::Checked;
use super::eval::value;
use super::part::Part;
use super::{Ancestry, Value};
use crate::quantity::Operator;

/// Whether the value of a part is a straight function of the readings. `derived` are the values
/// to be traced to what they were worked out by.
pub(super) fn is_straight(part: &Part, values: &dyn Ancestry, derived: &[(String, &Checked)]) -> bool {
    let straight = |part: &Part| is_straight(part, values, derived);
    match part {
        Part::Amount(..) | Part::Word(_) | Part::YesNo(_) => true,
        Part::Name(name) => {
            let formula = derived.iter().find(|(known, _)| known.as_str() == &**name);
            formula.is_none_or(|(_, formula)| straight(&formula.part))
        }
        Part::One(inner, _) | Part::Minus(inner) => straight(inner),
        Part::Otherwise(a, b) => straight(a) && straight(b),
        Part::Series(parts) => parts.iter().all(straight),
        Part::Arithmetic(operator, _, a, b) => {
            let bent = match operator {
                Operator::Add | Operator::Subtract => false,
                Operator::Multiply => is_doubted(a, values) && is_doubted(b, values),
                Operator::Divide => is_doubted(b, values),
            };
            !bent && straight(a) && straight(b)
        }
        _ => false,
    }
}

fn is_doubted(part: &Part, values: &dyn Ancestry) -> bool {
    !matches!(value(part, values), Ok(Value::Amount(_, amount)) if amount.parts().is_empty())
}
