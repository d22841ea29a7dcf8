//! How far values may be off.

use super::helpers::{refused, takes_sort};
use crate::lang::{Function, Parameter, Sort, Unknown, Value, Work};
use crate::physics;
use crate::quantity::{CONFIDENCE, Uncertain};
use crate::words::Formula;

const X: Parameter = takes_sort("x", Sort::Same);
const SURE: Parameter = takes_sort("confidence", Sort::Confidence);

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
        work: Work::Values(|given| off(&given[0], |x| Ok(x.standard_uncertainty()))),
    },
    Function {
        name: "one_sided_limit",
        parameters: &[X, SURE],
        required: 1,
        gives: Sort::ChangeOfSame,
        explanation: &Formula {
            sentence: "How far a value may be off on one side.",
            formula: "k × uncertainty_of(x), k = 1.645 at 95 %, more for few readings",
            range: "",
            source: "JCGM 106:2012, 8.3 (clause from memory); normal distribution, or Student's t (JCGM 100:2008, G.4)",
        },
        help: "At 95 % where nothing is said; one_sided_limit(x, 99 %) asks for more.",
        example: ("one_sided_limit(mean(series(37 psi, 38 psi, 39 psi)))", "1.6859 psi"),
        partial: true,
        work: Work::Values(|given| off(&given[0], |x| reach(x, asked(given.get(1))))),
    },
    Function {
        name: "uncertainty_between",
        parameters: &[takes_sort("a", Sort::Same), takes_sort("b", Sort::Same), SURE],
        required: 2,
        gives: Sort::ChangeOfSame,
        explanation: &Formula {
            sentence: "How far the difference of two values may be off on one side.",
            formula: "k × uncertainty_of(a - b), k = 1.645 at 95 %, more for few readings",
            range: "",
            source: "JCGM 100:2008, 5.2; JCGM 106:2012, 8.3 (clause from memory)",
        },
        help: "What both share, such as one gauge's accuracy, cancels; two gauges are off each on its own. At 95 % where nothing is said.",
        example: ("uncertainty_between(mean(series(37 psi, 38 psi, 39 psi)), 40 psi)", "1.6859 psi"),
        partial: true,
        work: Work::Values(|given| match (&given[0], &given[1]) {
            (Value::Amount(measure, a), Value::Amount(_, b)) => {
                let apart = Value::Amount(*measure, a.clone() - b.clone());
                off(&apart, |x| reach(x, asked(given.get(2))))
            }
            _ => Err(Unknown::because("This is not a number.")),
        }),
    },
];

/// What is made of a value's uncertainty, as a difference of its measure.
fn off(x: &Value, made: impl Fn(&Uncertain) -> Result<f64, Unknown>) -> Result<Value, Unknown> {
    match x {
        Value::Amount(measure, x) => made(x).map(|off| Value::exact(measure.difference(), off)),
        _ => Err(Unknown::because("This is not a number.")),
    }
}

/// The confidence that was asked for.
fn asked(given: Option<&Value>) -> f64 {
    given.and_then(Value::amount).map_or(CONFIDENCE, Uncertain::value)
}

/// How far a value may be off on one side.
fn reach(x: &Uncertain, confidence: f64) -> Result<f64, Unknown> {
    let factor = physics::one_sided_at(confidence, x.degrees_of_freedom()).map_err(refused)?;
    Ok(factor * x.standard_uncertainty())
}
