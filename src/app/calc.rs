//! `calc`: evaluate one expression, and tell how its value came about.

use std::io::Write;

use super::arguments::{UNITS, one_of};
use super::files::put_page;
use super::{Done, Failure, Result};
use crate::lang::{Ancestry, CheckedExpr, IntervalReason, Type, Unknown, Value, Values};
use crate::procedure::{check_expression, with_usual_units};
use crate::quantity::{Kind, Measure, Unit, Units, read_number, show_in_with_limits, unit};
use crate::report::{explanation_page, interval_words};

/// What is to be worked out, and how it is to be shown.
#[derive(Debug, clap::Args)]
pub struct Calculation {
    /// The expression, in quotes.
    #[arg(allow_hyphen_values = true)]
    pub expression: String,
    /// Tell how the result came about.
    #[arg(long)]
    pub explain: bool,
    /// Units of the result.
    #[arg(long, value_parser = one_of(UNITS), default_value = "us")]
    pub units: Units,
}

/// Evaluates an expression and writes its value, or how that came about.
///
/// # Errors
/// The expression's faults; a formula out of its range.
pub fn calc(calculation: &Calculation, width: usize, out: &mut dyn Write) -> Result<Done> {
    let Calculation { expression, explain, units } = calculation;
    let units = *units;
    let ((checked, with_units), unit) = match displayed_in(expression, units) {
        Some((read, unit)) => (read, Some(unit)),
        None => (read(expression, units)?, None),
    };
    let value = value_of(&checked).map_err(|unknown| {
        Failure::Call(format!("It has no value: {}.", unknown.reason(units).trim_end_matches('.')))
    })?;
    let shown = match (&value, unit) {
        (Value::Amount(measure, amount), Some(unit)) => show_in_with_limits(*measure, amount, unit),
        _ => value.shown_with_limits(units),
    };
    let interval = checked.coverage_interval(&NoValues);
    if *explain {
        let explanation = checked.explained(&NoValues);
        let shares = explanation.shares(&|_| None);
        let interval = interval.map(|interval| interval_words(&interval, units));
        let result = [Some(shown), interval].into_iter().flatten().collect::<Vec<_>>();
        put_page(&explanation_page(&explanation, &shares, &result, units), width, out)?;
    } else {
        writeln!(out, "{shown}")?;
        if let Some(interval) = interval.filter(|interval| interval.why == IntervalReason::Asymmetric) {
            writeln!(out, "{}", interval_words(&interval, units))?;
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
type ReadExpression = (CheckedExpr, Option<String>);

fn read(expression: &str, units: Units) -> Result<ReadExpression> {
    if let Some(unclear) = unclear_comma(expression) {
        let text = format!(
            "`{unclear}` could be one number or two. Write a decimal point, no comma for thousands, and a space after \
             each comma between two values."
        );
        return Err(Failure::Call(text));
    }
    let read = check_expression(expression).map(|checked| (checked, None));
    read.or_else(|faults| {
        if let Some(checked) = as_at_a_prompt(expression) {
            return Ok((checked, None));
        }
        let checked = with_usual_units(expression, units).ok_or(faults)?;
        let with_units = checked.expr().to_string();
        Ok((checked, Some(with_units)))
    })
}

/// A number as it may be typed at a prompt, such as `1 min 26`, where only one kind of unit fits.
fn as_at_a_prompt(text: &str) -> Option<CheckedExpr> {
    let typed = Measure::all().filter_map(|measure| read_number(text, measure.family()).ok());
    let with_unit = typed.filter_map(|typed| Some((typed.number, typed.unit?.symbol)));
    let mut readings: Vec<(f64, &str)> = with_unit.collect();
    readings.dedup();
    // Two strokes by themselves are inches here, as on a pipe; of a time they stand behind its minutes.
    let inches = readings.iter().find(|(_, unit)| matches!(*unit, "in" | "ft"));
    let (number, unit) = match readings.as_slice() {
        [one] => one,
        _ => inches?,
    };
    check_expression(&format!("{number} {unit}")).ok()
}

/// A comma between digits, among others that have a space behind them.
fn unclear_comma(expression: &str) -> Option<&str> {
    let spaced = expression.contains(", ");
    let digit =
        |at: Option<usize>| at.and_then(|at| expression.as_bytes().get(at)).is_some_and(u8::is_ascii_digit);
    let within = |at: &usize| digit(at.checked_sub(1)) && digit(Some(at + 1));
    let at = expression.match_indices(',').map(|(at, _)| at).find(|at| spaced && within(at))?;
    let is_part = |c: char| c.is_ascii_digit() || c == '.';
    let begin = expression[..at].rfind(|c| !is_part(c)).map_or(0, |before| before + 1);
    let end = expression[at + 1..].find(|c| !is_part(c)).map_or(expression.len(), |end| at + 1 + end);
    expression.get(begin..end)
}

/// An expression with `in UNIT` behind it, when the unit can show its value.
fn displayed_in(expression: &str, units: Units) -> Option<(ReadExpression, &'static Unit)> {
    let (expression, name) = expression.rsplit_once(" in ")?;
    let unit = unit(name)?;
    let read = read(expression, units).ok()?;
    match read.0.ty() {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_at_a_prompt_and_an_unclear_comma_is_not_guessed() {
        let table = [
            ("1 min 26", Ok("86 s")),
            ("50.5\"", Ok("4.2083 ft")),
            ("6'2\"", Ok("6.1667 ft")),
            ("2,6 bar", Ok("37.71 psi")),
            ("max(2.5 psi,3 psi)", Ok("3 psi")),
            ("drawdown(1,000, 38, 40, 60)", Err("1,000")),
            ("drawdown(44, 2,6, 40, 60)", Err("2,6")),
        ];
        for (expression, expected) in table {
            let mut out = Vec::new();
            let expression = expression.to_string();
            let asked = Calculation { expression, explain: false, units: Units::Us };
            let done = calc(&asked, 80, &mut out);
            let shown = String::from_utf8(out).unwrap();
            match expected {
                Ok(value) => assert_eq!(shown.trim(), value, "{}", asked.expression),
                Err(unclear) => {
                    let message = done.unwrap_err().to_string();
                    assert!(
                        message.starts_with(&format!("`{unclear}` could be one number or two.")),
                        "{message}"
                    );
                }
            }
        }
    }
}
