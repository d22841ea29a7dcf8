//! Between the language's values and the formulas' numbers.

use crate::lang::{Function, Parameter, Sort, Unknown, Value, Work};
use crate::physics::OutOfRange;
use crate::quantity::{Measure, Uncertain};
use crate::words::Formula;

/// A parameter of one measure.
pub(super) const fn takes(name: &'static str, measure: Measure) -> Parameter {
    takes_sort(name, Sort::Is(measure))
}

/// A parameter of another sort.
pub(super) const fn takes_sort(name: &'static str, sort: Sort) -> Parameter {
    Parameter { name, sort, optional: false }
}

/// The same, where it may be left off the end.
pub(super) const fn optional(parameter: Parameter) -> Parameter {
    Parameter { optional: true, ..parameter }
}

// Parameters of several functions.
pub(super) const VOLUME: Parameter = takes("volume", Measure::Volume);
pub(super) const PRECHARGE: Parameter = takes("precharge", Measure::Pressure);
pub(super) const CUT_IN: Parameter = takes("cut_in", Measure::Pressure);
pub(super) const CUT_OUT: Parameter = takes("cut_out", Measure::Pressure);
pub(super) const DRAWDOWN: Parameter = takes("drawdown", Measure::Volume);
pub(super) const FLOW: Parameter = takes("flow", Measure::Flow);
pub(super) const FROM: Parameter = takes("from", Measure::Pressure);
pub(super) const TO: Parameter = takes("to", Measure::Pressure);

/// The elevation, which may be left off the end of most formulas.
pub(super) const ELEVATION: Parameter = optional(takes("elevation", Measure::Length));

/// The confidence asked for, which the run's checks go by where it is left off.
pub(super) const SURE: Parameter = optional(takes_sort("confidence", Sort::Confidence));

/// A tank between pump stop and pump start, for formulas that take nothing else.
pub(super) const CYCLE: &[Parameter] = &[VOLUME, PRECHARGE, CUT_IN, CUT_OUT, ELEVATION];

/// The arguments as numbers; those left off the end are zero, which is sea level for the
/// elevation.
pub(super) fn amounts<const N: usize>(given: &[Value]) -> [Uncertain; N] {
    std::array::from_fn(|at| given.get(at).and_then(Value::amount).cloned().unwrap_or(Uncertain::exact(0.0)))
}

/// The arguments as plain numbers; those left off the end are zero.
pub(super) fn plain<const N: usize>(given: &[f64]) -> [f64; N] {
    std::array::from_fn(|at| given.get(at).copied().unwrap_or(0.0))
}

/// What is said of plain arithmetic.
pub(super) const fn arithmetic(sentence: &'static str, formula: &'static str) -> Formula {
    Formula { sentence, formula, range: "", source: "arithmetic" }
}

/// What is said of what needs no working out.
pub(super) const fn definition(sentence: &'static str, formula: &'static str) -> Formula {
    Formula { source: "definition", ..arithmetic(sentence, formula) }
}

/// What a formula of numbers gives, of which measure: with uncertainty, and plainly for draws. One of `physics` is named
/// with what it takes.
macro_rules! numbers {
    ($measure:ident, $formula:ident($($given:ident),+)) => {
        numbers!($measure, |$($given),+| crate::physics::$formula($($given),+))
    };
    ($measure:ident, |$($given:ident),+| $result:expr) => {
        ($measure, crate::lang::Work::Numbers {
            run: |given| {
                let [$($given),+] = crate::procedure::functions::helpers::amounts(given);
                crate::procedure::functions::helpers::amount_of($measure, $result)
            },
            plain: |given| {
                let [$($given),+] = crate::procedure::functions::helpers::plain(given);
                $result.ok()
            },
        })
    };
}
pub(super) use numbers;

/// A function that gives a value of one measure, and refuses what is out of its range: what [`Function`] says of it.
pub(super) struct Lent {
    pub name: &'static str,
    pub parameters: &'static [Parameter],
    pub explanation: &'static Formula,
    pub help: &'static str,
    pub example: (&'static str, &'static str),
    /// Of which measure the result is, and how it is worked out.
    pub gives: (Measure, Work),
}

/// The function of a formula.
pub(super) const fn lent(formula: Lent) -> Function {
    let Lent { name, parameters, explanation, help, example, gives: (measure, work) } = formula;
    let gives = Sort::Is(measure);
    Function { name, parameters, gives, explanation, help, example, partial: true, work }
}

/// A formula's result as a value of the language.
pub(super) fn amount_of(measure: Measure, result: Result<Uncertain, OutOfRange>) -> Result<Value, Unknown> {
    result.map(|amount| Value::Amount(measure, amount)).map_err(refused)
}

/// A formula's refusal as the reason why a value cannot be told.
pub(super) fn refused(out: OutOfRange) -> Unknown {
    Unknown::in_units(|units| out.say(units))
}

/// Why there is nothing to reckon with.
pub(super) fn not_a_number() -> Unknown {
    Unknown::because("This is not a number.")
}

/// The measure of an amount, or of the first amount of a series.
pub(super) fn measure_of(value: &Value) -> Option<Measure> {
    match value {
        Value::Amount(measure, _) => Some(*measure),
        Value::Series(items) => items.iter().find_map(measure_of),
        _ => None,
    }
}

/// How well one of several readings is read, without what they share: from what each is apart from the next.
pub(super) fn apart_u(readings: &[Uncertain]) -> f64 {
    let apart = readings.windows(2).map(|pair| (pair[1].clone() - pair[0].clone()).standard_uncertainty());
    apart.fold(0.0, f64::max) / 2f64.sqrt()
}
