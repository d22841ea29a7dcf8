//! Plain arithmetic, and what a check would say.

use super::helpers::{SURE, arithmetic, measure_of, not_a_number, optional, takes_sort};
use crate::lang::{Function, Parameter, Sort, Unknown, Value, Work};
use crate::quantity::{CONFIDENCE, Scalar, Uncertain, VERDICT, Verdict};

const A: Parameter = takes_sort("a", Sort::SameOrSeries);
const B: Parameter = optional(takes_sort("b", Sort::Same));

pub(super) static FUNCTIONS: &[Function] = &[
    Function {
        name: "abs",
        parameters: &[takes_sort("x", Sort::Difference)],
        gives: Sort::Difference,
        explanation: &arithmetic("A difference without its sign.", "x, or -x when x is below zero"),
        help: "abs(air_set - target) is how far the precharge is off, either way.",
        example: ("abs(36 psi - 38 psi)", "2 psi"),
        partial: false,
        work: Work::Numbers {
            run: |given| match &given[0] {
                Value::Amount(measure, x) => Ok(Value::Amount(*measure, Scalar::abs(x.clone()))),
                _ => Err(not_a_number()),
            },
            plain: |given| Some(given.first()?.abs()),
        },
    },
    Function {
        name: "min",
        parameters: &[A, B],
        gives: Sort::Same,
        explanation: &arithmetic(
            "The smaller of two, or the lowest of a series.",
            "the lowest by best estimate",
        ),
        help: "By best estimate; min(air_found) is the lowest of a series.",
        example: ("min(36 psi, 38 psi)", "36 psi"),
        partial: false,
        work: Work::Numbers {
            run: |given| of_two(given, Scalar::min),
            plain: |given| given.iter().copied().reduce(Scalar::min),
        },
    },
    Function {
        name: "max",
        parameters: &[A, B],
        gives: Sort::Same,
        explanation: &arithmetic(
            "The larger of two, or the highest of a series.",
            "the highest by best estimate",
        ),
        help: "By best estimate; max(air_found) is the highest of a series.",
        example: ("max(36 psi, 38 psi)", "38 psi"),
        partial: false,
        work: Work::Numbers {
            run: |given| of_two(given, Scalar::max),
            plain: |given| given.iter().copied().reduce(Scalar::max),
        },
    },
    Function {
        name: "nearest",
        parameters: &[takes_sort("x", Sort::Same), takes_sort("step", Sort::StepOfSame)],
        gives: Sort::Same,
        explanation: &arithmetic("A value rounded to the nearest mark of a gauge.", "step × round(x / step)"),
        help: "nearest(target, 0.5 psi) is what can be set with a gauge marked every half psi. Its uncertainty stays.",
        example: ("nearest(34.6 psi, 0.5 psi)", "34.5 psi"),
        partial: true,
        work: Work::Values(|given| match (&given[0], given[1].amount()) {
            (Value::Amount(measure, x), Some(step)) if Scalar::value(step) > 0.0 => {
                let step = Scalar::value(step);
                let rounded = (Scalar::value(x) / step).round() * step;
                Ok(Value::Amount(*measure, Scalar::through(x.clone(), rounded, 1.0)))
            }
            _ => Err(Unknown::because("The step to round to must be above zero.")),
        }),
    },
    Function {
        name: "verdict",
        parameters: &[takes_sort("condition", Sort::YesNo), SURE],
        gives: Sort::Words(&["pass", "fail", "unsure"]),
        explanation: &VERDICT,
        help: "'pass' or 'fail' when the probability is at least the confidence (JCGM 106:2012), else 'unsure'. Left off, it is what the checks of the run go by: 95 % if nobody asks for another.",
        example: ("verdict(36 psi < 38 psi)", "pass"),
        partial: false,
        work: Work::Values(|given| match (&given[0], given.get(1).and_then(Value::amount)) {
            (Value::Truth(truth), confidence) => {
                let verdict = truth.verdict(confidence.map_or(CONFIDENCE, Scalar::value));
                Ok(Value::text(match verdict {
                    Verdict::Pass => "pass",
                    Verdict::Fail => "fail",
                    Verdict::Unsure => "unsure",
                }))
            }
            _ => Err(Unknown::because("This is not a yes or no.")),
        }),
    },
];

fn of_two(given: &[Value], choose: fn(Uncertain, Uncertain) -> Uncertain) -> Result<Value, Unknown> {
    let measure = given.first().and_then(measure_of);
    let chosen = given.iter().flat_map(Value::amounts).reduce(choose);
    measure.zip(chosen).map(|(measure, x)| Value::Amount(measure, x)).ok_or_else(not_a_number)
}
