//! How far values may be off.

use super::helpers::{confidence, refused, takes_sort};
use crate::lang::{Function, Parameter, Sort, Unknown, Value, Work};
use crate::physics;
use crate::quantity::Uncertain;
use crate::words::Formula;

const X: Parameter = takes_sort("x", Sort::Same);
const CONFIDENCE: Parameter = takes_sort("confidence", Sort::Confidence);

pub(super) static FUNCTIONS: &[Function] = &[
    Function {
        name: "uncertainty_of",
        parameters: &[X],
        required: 1,
        gives: Sort::ChangeOfSame,
        explanation: &Formula {
            sentence: "The standard uncertainty of a value.",
            formula: "√(Σ c² u²), c the sensitivity to each source",
            range: "",
            source: "JCGM 100:2008, 5.1.2",
        },
        help: "It joins all that the value rests on: each gauge's accuracy, its marks, the spread of repeats.",
        example: ("uncertainty_of(mean(series(37 psi, 38 psi, 39 psi)))", "0.57735 psi"),
        partial: false,
        work: Work::Values(|given| off(&given[0], Ok)),
    },
    Function {
        name: "one_sided_limit",
        parameters: &[X, CONFIDENCE],
        required: 1,
        gives: Sort::ChangeOfSame,
        explanation: &Formula {
            sentence: "How far a value may be off on one side.",
            formula: "z × uncertainty_of(x), z = 1.645 at 95 %",
            range: "",
            source: "JCGM 106:2012, 8.3; normal distribution",
        },
        help: "At 95 % where nothing is said; one_sided_limit(x, 99 %) asks for more.",
        example: ("one_sided_limit(mean(series(37 psi, 38 psi, 39 psi)))", "0.94966 psi"),
        partial: true,
        work: Work::Values(|given| off(&given[0], |u| factor(given.get(1)).map(|z| z * u))),
    },
    Function {
        name: "uncertainty_between",
        parameters: &[takes_sort("a", Sort::Same), takes_sort("b", Sort::Same), CONFIDENCE],
        required: 2,
        gives: Sort::ChangeOfSame,
        explanation: &Formula {
            sentence: "How far the difference of two values may be off on one side.",
            formula: "z × uncertainty_of(a - b), z = 1.645 at 95 %",
            range: "",
            source: "JCGM 100:2008, 5.2; JCGM 106:2012, 8.3",
        },
        help: "What both share, such as one gauge's accuracy, cancels; two gauges are off each on its own. At 95 % where nothing is said.",
        example: ("uncertainty_between(mean(series(37 psi, 38 psi, 39 psi)), 40 psi)", "0.94966 psi"),
        partial: true,
        work: Work::Values(|given| match (&given[0], &given[1]) {
            (Value::Amount(measure, a), Value::Amount(_, b)) => {
                let apart = Value::Amount(*measure, a.clone() - b.clone());
                off(&apart, |u| factor(given.get(2)).map(|z| z * u))
            }
            _ => Err(Unknown::because("This is not a number.")),
        }),
    },
];

/// What is made of a value's standard uncertainty, as a difference of its measure.
fn off(x: &Value, made: impl Fn(f64) -> Result<f64, Unknown>) -> Result<Value, Unknown> {
    match x {
        Value::Amount(measure, x) => {
            made(x.standard_uncertainty()).map(|off| Value::exact(measure.difference(), off))
        }
        _ => Err(Unknown::because("This is not a number.")),
    }
}

fn factor(given: Option<&Value>) -> Result<f64, Unknown> {
    let asked = given.and_then(Value::amount).map_or(confidence(), Uncertain::value);
    physics::one_sided(asked).map_err(refused)
}
