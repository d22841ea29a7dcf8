//! `calc`: evaluate one expression.

use std::io::Write;

use super::failure::{Done, Failure};
use crate::lang::{Unknown, Value, Values};
use crate::procedure::check_expression;
use crate::quantity::Units;

/// Evaluates an expression and writes its value.
///
/// # Errors
/// The expression's faults; a formula out of its range.
pub fn calc(expression: &str, units: Units, out: &mut dyn Write) -> Result<Done, Failure> {
    let checked = check_expression(expression)?;
    match checked.value(&NoValues) {
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

/// Outside a run no name has a value.
struct NoValues;

impl Values for NoValues {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        Err(Unknown::because(format!("`{name}` is not known outside a run.")))
    }
}
