//! Several answers to one question: rounds of a loop, repeated readings, tanks.

use super::helpers::{refused, takes, takes_sort};
use crate::lang::{Collapse, Function, Parameter, Sort, Unknown, Value};
use crate::physics::{self, Settling};
use crate::quantity::Measure::*;
use crate::quantity::{Measure, Scalar, SourceId, Truth, Uncertain};

const ANY: Parameter = takes_sort("series", Sort::SeriesOfAny);
const MEASURED: Parameter = takes_sort("series", Sort::SeriesOfSame);

/// The reading below which settled solids in a jar or cone cannot be told from none: 0.1 mL/L,
/// the practical lower limit of Standard Methods 2540 F.
const SOLIDS_FLOOR: f64 = 1e-4;

/// A function over a series: its name, sentence, help, formula, source, and an example with its result.
const fn over(
    name: &'static str,
    parameters: &'static [Parameter],
    gives: Sort,
    [sentence, help, formula, source, example, shown]: [&'static str; 6],
    run: fn(&[Value]) -> Result<Value, Unknown>,
) -> Function {
    let required = parameters.len();
    Function {
        name,
        parameters,
        required,
        gives,
        sentence,
        help,
        formula,
        source,
        example: (example, shown),
        partial: false,
        run,
    }
}

pub(super) static FUNCTIONS: &[Function] = &[
    over(
        "last",
        &[ANY],
        Sort::Element,
        [
            "The last answer of a series.",
            "last(jar) == 'clear' asks for the newest jar.",
            "the last of the series",
            "definition",
            "last(series('dirty', 'cloudy', 'clear'))",
            "clear",
        ],
        |given| given[0].clone().collapsed(Collapse::Last),
    ),
    over(
        "first",
        &[ANY],
        Sort::Element,
        [
            "The first answer of a series.",
            "first(air_set) is the charge before any was added.",
            "the first of the series",
            "definition",
            "first(series(28 psi, 33 psi, 38 psi))",
            "28 psi",
        ],
        |given| items(&given[0]).first().cloned().ok_or_else(none),
    ),
    over(
        "count",
        &[ANY],
        Sort::Is(Count),
        [
            "How many answers a series has.",
            "count(jar) is the number of dumps so far.",
            "the number of answers",
            "definition",
            "count(series('dirty', 'clear'))",
            "2",
        ],
        |given| Ok(Value::exact(Count, items(&given[0]).len() as f64)),
    ),
    over(
        "mean",
        &[MEASURED],
        Sort::Same,
        [
            "The mean of a series, doubted by its spread.",
            "The standard deviation of the mean is added to what the readings share (JCGM 100:2008, 4.2.3).",
            "sum / n; doubted by s / √n, s the standard deviation of the readings, and by what they share",
            "JCGM 100:2008, 4.2.3",
            "mean(series(37 psi, 38 psi, 39 psi))",
            "38 psi",
        ],
        |given| given[0].clone().collapsed(Collapse::Mean),
    ),
    over(
        "sum",
        &[takes_sort("series", Sort::SeriesOfSame)],
        Sort::Same,
        [
            "The sum of a series.",
            "sum(dumped) is all the water that went out.",
            "the answers added up",
            "arithmetic",
            "sum(series(2 gal, 3 gal))",
            "5 gal",
        ],
        |given| fold(&given[0], |a, b| a + b),
    ),
    over(
        "spread",
        &[MEASURED],
        Sort::ChangeOfSame,
        [
            "The highest of a series less its lowest.",
            "What the readings share, such as the gauge, cancels. Three readings within 0.5 psi are common practice.",
            "max - min",
            "arithmetic",
            "spread(series(37 psi, 38 psi, 38.5 psi))",
            "1.5 psi",
        ],
        |given| {
            let (high, low) = (fold(&given[0], Scalar::max)?, fold(&given[0], Scalar::min)?);
            match (high, low) {
                (Value::Amount(measure, high), Value::Amount(_, low)) => {
                    Ok(Value::Amount(measure.difference(), high - low))
                }
                _ => Err(none()),
            }
        },
    ),
    over(
        "settled",
        &[ANY, takes("n", Count)],
        Sort::YesNo,
        [
            "Whether the last n answers are settled.",
            "Words: all the same. Numbers: all within 10 % of their mean, or, for settled solids, all at or below 0.1 mL/L. A proposal put together from published rules for purging wells, not a citation.",
            "the last n all the same; numbers: within 10 % of their mean, or at or below the floor",
            "a proposal put together from published rules for purging wells: Puls and Barcelona, EPA/540/S-95/504, 1996; floor: Standard Methods 2540 F",
            "settled(series('dirty', 'clear', 'clear', 'clear'), 3)",
            "yes",
        ],
        |given| settled(&given[0], &given[1]),
    ),
    Function {
        partial: true,
        ..over(
            "settling",
            &[takes_sort("series", Sort::SeriesOfSame), takes("n", Count)],
            Sort::Words(&["at floor", "steady", "changing", "too few"]),
            [
                "How the last n numbers of a series have settled.",
                "'at floor' and 'steady' are what settled(…) calls settled; 'steady' above the floor means that more of the same will not help: look at the source, or the tank.",
                "the last n within 10 % of their mean, or at or below the floor",
                "as settled",
                "settling(series(4 mL/L, 2 mL/L, 1.9 mL/L, 2.1 mL/L), 3)",
                "steady",
            ],
            |given| {
                Ok(Value::text(match how_settled(&given[0], &given[1])? {
                    Settling::AtFloor => "at floor",
                    Settling::Steady => "steady",
                    Settling::Changing => "changing",
                    Settling::TooFew => "too few",
                }))
            },
        )
    },
    Function {
        partial: true,
        ..over(
            "dumps_to_go",
            &[takes_sort("series", Sort::SeriesOf(Concentration)), takes("floor", Concentration)],
            Sort::Is(Number),
            [
                "How many more dumps until the settled solids are down to the floor.",
                "A decay fitted to the logarithms of the readings; it needs three above zero that fall.",
                "ln y = a + b i by least squares; (ln floor - a) / b, less the dumps made",
                "least squares (textbook); uncertainty: JCGM 100:2008, 5.1 and H.3",
                "dumps_to_go(series(8 mL/L, 4 mL/L, 2 mL/L), 0.25 mL/L)",
                "3",
            ],
            |given| to_go(&given[0], &given[1]),
        )
    },
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
    let measure = items(series).iter().find_map(|item| match item {
        Value::Amount(measure, _) => Some(*measure),
        _ => None,
    });
    let joined = series.amounts().into_iter().reduce(join);
    measure.zip(joined).map(|(measure, amount)| Value::Amount(measure, amount)).ok_or_else(none)
}

fn settled(series: &Value, n: &Value) -> Result<Value, Unknown> {
    let items = items(series);
    let yes = if series.amounts().len() == items.len() {
        matches!(how_settled(series, n)?, Settling::AtFloor | Settling::Steady)
    } else {
        let n = n.amount().map_or(0.0, Scalar::value) as usize;
        n >= 1 && items.len() >= n && items[items.len() - n..].windows(2).all(|pair| pair[0] == pair[1])
    };
    Ok(Value::Truth(Truth::certain(yes)))
}

fn how_settled(series: &Value, n: &Value) -> Result<Settling, Unknown> {
    let n = n.amount().map_or(0.0, Scalar::value) as usize;
    let numbers: Vec<f64> = series.amounts().iter().map(Scalar::value).collect();
    let measure = items(series).iter().find_map(|item| match item {
        Value::Amount(measure, _) => Some(*measure),
        _ => None,
    });
    let floor = if measure == Some(Measure::Concentration) { SOLIDS_FLOOR } else { 0.0 };
    physics::settling(&numbers, n, floor).map_err(refused)
}

fn to_go(series: &Value, floor: &Value) -> Result<Value, Unknown> {
    let readings = series.amounts();
    let solids: Vec<f64> = readings.iter().map(Scalar::value).collect();
    let us: Vec<f64> = readings.iter().map(Uncertain::standard_uncertainty).collect();
    let floor = floor.amount().map_or(0.0, Scalar::value);
    let fit = physics::dumps_to_go_as_read(&solids, &us, floor).map_err(refused)?;
    let made_from: Vec<u64> = solids.iter().map(|read| read.to_bits()).collect();
    let source = SourceId::spread_of(("dumps_to_go", made_from));
    Ok(Value::Amount(Number, Uncertain::exact(fit.estimate).doubt(source, fit.standard_uncertainty)))
}
