//! How far values may be off.

use super::helpers::{SURE, not_a_number, refused, takes_sort};
use crate::lang::{Function, Parameter, Sort, Unknown, Value, Work};
use crate::physics::{self, FormulaResult};
use crate::quantity::{CONFIDENCE, Measure, STANDARD_UNCERTAINTY, Uncertain};

const X: Parameter = takes_sort("x", Sort::Same);

pub(super) static FUNCTIONS: &[Function] = &[
    Function {
        name: "uncertainty_of",
        parameters: &[X],
        gives: Sort::ChangeOfSame,
        explanation: &STANDARD_UNCERTAINTY,
        help: "It joins all that the value rests on: each gauge's accuracy, its marks, the spread of repeats.",
        example: ("uncertainty_of(mean(series(37 psi, 38 psi, 39 psi)))", "0.57735 psi"),
        partial: false,
        work: Work::Values(|given| off(&given[0], |x| Ok(x.standard_uncertainty()))),
    },
    Function {
        name: "one_sided_limit",
        parameters: &[X, SURE],
        gives: Sort::ChangeOfSame,
        explanation: &physics::ONE_SIDED_LIMIT,
        help: "At 95 % where nothing is said; one_sided_limit(x, 99 %) asks for more.",
        example: ("one_sided_limit(mean(series(37 psi, 38 psi, 39 psi)))", "1.6859 psi"),
        partial: true,
        work: Work::Values(|given| off(&given[0], |x| physics::one_sided_limit(x, asked(given.get(1))))),
    },
    Function {
        name: "uncertainty_between",
        parameters: &[takes_sort("a", Sort::Same), takes_sort("b", Sort::Same), SURE],
        gives: Sort::ChangeOfSame,
        explanation: &physics::UNCERTAINTY_BETWEEN,
        help: "What both share, such as one gauge's accuracy, cancels; two gauges are off each on its own. At 95 % where nothing is said.",
        example: ("uncertainty_between(mean(series(37 psi, 38 psi, 39 psi)), 40 psi)", "1.6859 psi"),
        partial: true,
        work: Work::Values(|given| match (&given[0], &given[1]) {
            (Value::Amount(measure, a), Value::Amount(_, b)) => {
                let off = physics::uncertainty_between(a.clone(), b.clone(), asked(given.get(2)));
                change_of(*measure, off)
            }
            _ => Err(not_a_number()),
        }),
    },
];

/// What is made of a value's uncertainty, as a difference of its measure.
fn off(x: &Value, made: impl Fn(&Uncertain) -> FormulaResult<f64>) -> Result<Value, Unknown> {
    match x {
        Value::Amount(measure, x) => change_of(*measure, made(x)),
        _ => Err(not_a_number()),
    }
}

/// How far a value of that measure may be off.
fn change_of(measure: Measure, off: FormulaResult<f64>) -> Result<Value, Unknown> {
    off.map(|off| Value::exact(measure.difference(), off)).map_err(refused)
}

/// The confidence that was asked for.
fn asked(given: Option<&Value>) -> f64 {
    given.and_then(Value::amount).map_or(CONFIDENCE, Uncertain::value)
}
