//! `calc`: evaluate one expression.

use std::io::Write;

use super::failure::{Done, Failure};
use crate::lang::{Checked, Type, Unknown, Value, Values};
use crate::procedure::check_expression;
use crate::quantity::{Kind, Unit, Units, show_in, unit};

/// Evaluates an expression and writes its value.
///
/// # Errors
/// The expression's faults; a formula out of its range.
pub fn calc(expression: &str, units: Units, out: &mut dyn Write) -> Result<Done, Failure> {
    let (checked, unit) = match displayed_in(expression) {
        Some((checked, unit)) => (checked, Some(unit)),
        None => (check_expression(expression)?, None),
    };
    match checked.value(&NoValues) {
        Ok(Value::Amount(measure, amount)) if unit.is_some() => {
            let shown = unit.map(|unit| show_in(measure, &amount, unit)).unwrap_or_default();
            writeln!(out, "{shown}")?;
        }
        Ok(value) => writeln!(out, "{}", value.shown_fully(units))?,
        Err(unknown) => {
            return Err(Failure::Call(format!(
                "It has no value: {}.",
                unknown.reason(units).trim_end_matches('.')
            )));
        }
    }
    Ok(Done::Well)
}

/// An expression with `in UNIT` behind it, when the unit can show its value.
fn displayed_in(expression: &str) -> Option<(Checked, &'static Unit)> {
    let (expression, name) = expression.rsplit_once(" in ")?;
    let unit = unit(name)?;
    let checked = check_expression(expression).ok()?;
    match checked.ty() {
        Type::One(Kind::Measure(measure)) if measure.family() == unit.family => Some((checked, unit)),
        _ => None,
    }
}

/// Outside a run no name has a value.
struct NoValues;

impl Values for NoValues {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        Err(Unknown::because(format!("`{name}` is not known outside a run.")))
    }
}
