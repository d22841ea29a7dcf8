//! `calc`: evaluate one expression, and tell how its value came about.

use std::io::Write;

use super::failure::{Done, Failure};
use super::files::put_page;
use crate::lang::{Ancestry, CheckedExpr, IntervalReason, Type, Unknown, Value, Values};
use crate::procedure::{check_expression, with_usual_units};
use crate::quantity::{Kind, Unit, Units, show_in_with_limits, unit};
use crate::report::{explanation_page, interval_words};
use crate::source::Fault;

/// What is to be worked out, and how it is to be shown.
pub struct Calculation<'a> {
    /// The expression, perhaps with `in UNIT` behind it.
    pub expression: &'a str,
    /// Units of the result.
    pub units: Units,
    /// The columns for an explanation, when one is wanted.
    pub explained: Option<usize>,
}

/// Evaluates an expression and writes its value, or how that came about.
///
/// # Errors
/// The expression's faults; a formula out of its range.
pub fn calc(calculation: &Calculation<'_>, out: &mut dyn Write) -> Result<Done, Failure> {
    let units = calculation.units;
    let (ReadExpression { checked, with_units }, unit) = match displayed_in(calculation.expression, units) {
        Some((read, unit)) => (read, Some(unit)),
        None => (read(calculation.expression, units)?, None),
    };
    let value = value_of(&checked).map_err(|unknown| {
        Failure::Call(format!("It has no value: {}.", unknown.reason(units).trim_end_matches('.')))
    })?;
    let shown = match (&value, unit) {
        (Value::Amount(measure, amount), Some(unit)) => show_in_with_limits(*measure, amount, unit),
        _ => value.shown_with_limits(units),
    };
    let interval = checked.coverage_interval(&NoValues);
    match calculation.explained {
        None => {
            writeln!(out, "{shown}")?;
            if let Some(interval) = interval.filter(|interval| interval.why == IntervalReason::Asymmetric) {
                writeln!(out, "{}", interval_words(&interval, units))?;
            }
        }
        Some(width) => {
            let explanation = checked.explained(&NoValues);
            let shares = explanation.shares(&|_| None);
            let interval = interval.map(|interval| interval_words(&interval, units));
            let result = [Some(shown), interval].into_iter().flatten().collect::<Vec<_>>();
            put_page(&explanation_page(&explanation, &shares, &result, units), width, out)?;
        }
    }
    if let Some(with_units) = with_units {
        writeln!(out, "Units taken: {with_units}")?;
    }
    Ok(Done::Well)
}

/// The value of an expression; a yes or no as a check would judge it.
fn value_of(checked: &CheckedExpr) -> Result<Value, Unknown> {
    match checked.value(&NoValues)? {
        Value::Truth(_) => checked.judged(&NoValues).map(|judged| Value::Truth(judged.truth)),
        other => Ok(other),
    }
}

/// An expression that was read, and how its bare numbers were taken where there were any.
struct ReadExpression {
    checked: CheckedExpr,
    with_units: Option<String>,
}

fn read(expression: &str, units: Units) -> Result<ReadExpression, Vec<Fault>> {
    check_expression(expression).map(|checked| ReadExpression { checked, with_units: None }).or_else(
        |faults| {
            let checked = with_usual_units(expression, units).ok_or(faults)?;
            Ok(ReadExpression { with_units: Some(checked.expr().to_string()), checked })
        },
    )
}

/// An expression with `in UNIT` behind it, when the unit can show its value.
fn displayed_in(expression: &str, units: Units) -> Option<(ReadExpression, &'static Unit)> {
    let (expression, name) = expression.rsplit_once(" in ")?;
    let unit = unit(name)?;
    let read = read(expression, units).ok()?;
    match read.checked.ty() {
        Type::One(Kind::Measure(measure)) if measure.family() == unit.family => Some((read, unit)),
        _ => None,
    }
}

impl Ancestry for NoValues {
    fn formula(&self, _name: &str) -> Option<&CheckedExpr> {
        None
    }
}

/// Outside a run no name has a value.
struct NoValues;

impl Values for NoValues {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        Err(Unknown::because(format!("`{name}` is not known outside a run.")))
    }
}
