//! Several answers to one question: rounds of a loop, repeated readings, tanks.

use super::helpers::{Lent, arithmetic, definition, lent, measure_of, refused, takes, takes_sort};
use crate::lang::{Collapse, Function, MEAN, Parameter, Sort, Unknown, Value, Work};
use crate::physics::{self, Stabilization};
use crate::quantity::Measure::*;
use crate::quantity::{Measure, Scalar, SourceId, Truth, Uncertain};

const ANY: Parameter = takes_sort("series", Sort::SeriesOfAny);
const MEASURED: Parameter = takes_sort("series", Sort::SeriesOfSame);

/// The reading below which settled solids in a jar or cone cannot be told from none: 0.1 mL/L,
/// the practical lower limit of Standard Methods 2540 F.
const SOLIDS_FLOOR: f64 = 1e-4;

pub(super) static FUNCTIONS: &[Function] = &[
    Function {
        name: "last",
        parameters: &[ANY],
        gives: Sort::Element,
        explanation: &definition("The last answer of a series.", "the last of the series"),
        help: "last(jar) == 'clear' asks for the newest jar.",
        example: ("last(series('dirty', 'cloudy', 'clear'))", "clear"),
        partial: false,
        work: Work::Values(|given| given[0].clone().collapsed(Collapse::Last)),
    },
    Function {
        name: "count",
        parameters: &[ANY],
        gives: Sort::Is(Count),
        explanation: &definition("How many answers a series has.", "the number of answers"),
        help: "count(jar) is the number of rounds so far.",
        example: ("count(series('dirty', 'clear'))", "2"),
        partial: false,
        work: Work::Values(|given| Ok(Value::exact(Count, items(&given[0]).len() as f64))),
    },
    Function {
        name: "mean",
        parameters: &[MEASURED],
        gives: Sort::Same,
        explanation: &MEAN,
        help: "The standard deviation of the mean is added to what the readings share (JCGM 100:2008, 4.2.3).",
        example: ("mean(series(37 psi, 38 psi, 39 psi))", "38 psi"),
        partial: false,
        work: Work::Values(|given| given[0].clone().collapsed(Collapse::Mean)),
    },
    Function {
        name: "sum",
        parameters: &[MEASURED],
        gives: Sort::Same,
        explanation: &arithmetic("The sum of a series.", "the answers added up"),
        help: "sum(dumped) is all the water that went out.",
        example: ("sum(series(2 gal, 3 gal))", "5 gal"),
        partial: false,
        work: Work::Values(|given| fold(&given[0], |a, b| a + b)),
    },
    Function {
        name: "spread",
        parameters: &[MEASURED],
        gives: Sort::ChangeOfSame,
        explanation: &arithmetic("The highest of a series less its lowest.", "max - min"),
        help: "What the readings share, such as the gauge, cancels. Three readings within 0.5 psi are common practice.",
        example: ("spread(series(37 psi, 38 psi, 38.5 psi))", "1.5 psi"),
        partial: false,
        work: Work::Values(|given| match (fold(&given[0], Scalar::max)?, fold(&given[0], Scalar::min)?) {
            (Value::Amount(measure, high), Value::Amount(_, low)) => {
                Ok(Value::Amount(measure.difference(), high - low))
            }
            _ => Err(none()),
        }),
    },
    Function {
        name: "stabilized",
        parameters: &[ANY, takes("n", Count)],
        gives: Sort::YesNo,
        explanation: &physics::STABILIZATION,
        help: "Yes where they have settled: words all the same, numbers at floor or steady. The floor of settled solids is 0.1 mL/L. No citation is meant.",
        example: ("stabilized(series('dirty', 'clear', 'clear', 'clear'), 3)", "yes"),
        partial: false,
        work: Work::Values(|given| stabilization(&given[0], &given[1])),
    },
    Function {
        name: "stabilization",
        parameters: &[MEASURED, takes("n", Count)],
        gives: Sort::Words(&["at floor", "steady", "changing", "too few"]),
        explanation: &physics::STABILIZATION,
        help: "'at floor' and 'steady' are what stabilized(…) calls settled; 'steady' above the floor means that more of the same will not help: look at the source, or the tank.",
        example: ("stabilization(series(4 mL/L, 2 mL/L, 1.9 mL/L, 2.1 mL/L), 3)", "steady"),
        partial: true,
        work: Work::Values(|given| {
            Ok(Value::text(match stabilization_words(&given[0], &given[1])? {
                Stabilization::AtFloor => "at floor",
                Stabilization::Steady => "steady",
                Stabilization::Changing => "changing",
                Stabilization::TooFew => "too few",
            }))
        }),
    },
    lent(Lent {
        name: "flushes_to_go",
        parameters: &[takes_sort("series", Sort::SeriesOf(Concentration)), takes("floor", Concentration)],
        explanation: &physics::FLUSHES_TO_GO,
        help: "A decay fitted to the logarithms of the readings.",
        example: ("flushes_to_go(series(8 mL/L, 4 mL/L, 2 mL/L), 0.25 mL/L)", "3"),
        gives: (Number, Work::Values(|given| to_go(&given[0], &given[1]))),
    }),
];

fn none() -> Unknown {
    Unknown::because("No answer was given.")
}

fn items(series: &Value) -> &[Value] {
    match series {
        Value::Series(items) => items,
        one => std::slice::from_ref(one),
    }
}

fn fold(series: &Value, join: fn(Uncertain, Uncertain) -> Uncertain) -> Result<Value, Unknown> {
    let joined = series.amounts().into_iter().reduce(join);
    measure_of(series).zip(joined).map(|(measure, amount)| Value::Amount(measure, amount)).ok_or_else(none)
}

fn stabilization(series: &Value, n: &Value) -> Result<Value, Unknown> {
    let items = items(series);
    let yes = if series.amounts().len() == items.len() {
        matches!(stabilization_words(series, n)?, Stabilization::AtFloor | Stabilization::Steady)
    } else {
        let n = n.amount().map_or(0.0, Scalar::value) as usize;
        n >= 1 && items.len() >= n && items[items.len() - n..].windows(2).all(|pair| pair[0] == pair[1])
    };
    Ok(Value::Truth(Truth::certain(yes)))
}

fn stabilization_words(series: &Value, n: &Value) -> Result<Stabilization, Unknown> {
    let n = n.amount().map_or(0.0, Scalar::value) as usize;
    let numbers: Vec<f64> = series.amounts().iter().map(Scalar::value).collect();
    let floor = if measure_of(series) == Some(Measure::Concentration) { SOLIDS_FLOOR } else { 0.0 };
    physics::stabilization(&numbers, n, floor).map_err(refused)
}

fn to_go(series: &Value, floor: &Value) -> Result<Value, Unknown> {
    let readings = series.amounts();
    let solids: Vec<f64> = readings.iter().map(Scalar::value).collect();
    let us: Vec<f64> = readings.iter().map(Uncertain::standard_uncertainty).collect();
    let floor = floor.amount().map_or(0.0, Scalar::value);
    let fit = physics::flushes_to_go_as_read(&solids, &us, floor).map_err(refused)?;
    let made_from: Vec<u64> = solids.iter().map(|read| read.to_bits()).collect();
    let source = SourceId::few(("flushes_to_go", made_from), fit.degrees_of_freedom);
    Ok(Value::Amount(Number, Uncertain::exact(fit.estimate).with_component(source, fit.standard_uncertainty)))
}
