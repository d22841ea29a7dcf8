//! What a function of the language is: the table itself stands a layer up.

use super::{Unknown, Value};
use crate::quantity::Measure;
use crate::words::Formula;

/// What a parameter takes or a function gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sort {
    /// A value of this measure.
    Is(Measure),
    /// A yes or no.
    YesNo,
    /// A probability; left off, the one that the run's checks go by.
    Confidence,
    /// Any measure, the same wherever `Same` stands in one signature.
    Same,
    /// Any measure that is no point on a scale; the same throughout.
    Difference,
    /// A difference between two of the shared measure, which stands before it.
    StepOfSame,
    /// As a result: a difference between two of the shared measure.
    ChangeOfSame,
    /// One of the shared measure beside another, or, alone, a series of it.
    SameOrSeries,
    /// A series of the shared measure.
    SeriesOfSame,
    /// A series of this measure.
    SeriesOf(Measure),
    /// A series of anything, words too.
    SeriesOfAny,
    /// As a result: what the series holds.
    Element,
    /// One of these words.
    Words(&'static [&'static str]),
}

impl Sort {
    /// Whether a series may stand here as a whole.
    pub fn is_series(self) -> bool {
        use Sort::{SameOrSeries, SeriesOf, SeriesOfAny, SeriesOfSame};
        matches!(self, SameOrSeries | SeriesOfSame | SeriesOf(_) | SeriesOfAny)
    }

    /// How a signature shows it.
    pub fn shown(self) -> String {
        match self {
            Sort::Is(measure) => measure.name().to_string(),
            Sort::YesNo => "yes/no".to_string(),
            Sort::Confidence => Measure::Number.name().to_string(),
            Sort::Same => "any".to_string(),
            Sort::Difference => "any difference".to_string(),
            Sort::StepOfSame => "difference of it".to_string(),
            Sort::ChangeOfSame => "difference of it".to_string(),
            Sort::SameOrSeries => "any or series".to_string(),
            Sort::SeriesOfSame => "series".to_string(),
            Sort::SeriesOf(measure) => format!("series of {}", measure.name()),
            Sort::SeriesOfAny => "series of any".to_string(),
            Sort::Element => "one of it".to_string(),
            Sort::Words(words) => crate::words::list(words, "or"),
        }
    }
}

/// One parameter.
#[derive(Clone, Copy, Debug)]
pub struct Parameter {
    /// Its name, as documentation shows it.
    pub name: &'static str,
    /// What it takes.
    pub sort: Sort,
    /// Whether it may be left off the end.
    pub optional: bool,
}

/// One function of the language, with everything about it.
#[derive(Debug)]
pub struct Function {
    /// The name it is called by.
    pub name: &'static str,
    /// Its parameters.
    pub parameters: &'static [Parameter],
    /// What it gives.
    pub gives: Sort,
    /// What it gives, by which formula, within which range, from which source.
    pub explanation: &'static Formula,
    /// What to mind beside that; empty when there is nothing.
    pub help: &'static str,
    /// An expression and what it shows.
    pub example: (&'static str, &'static str),
    /// Whether it can give an unknown although its arguments are known (out of its range).
    pub partial: bool,
    /// How it is worked out.
    pub work: Work,
}

impl Function {
    /// How many values must be given.
    pub(super) fn required(&self) -> usize {
        self.parameters.iter().filter(|parameter| !parameter.optional).count()
    }

    /// Whether a yes or no stands at that place: it says of it what a check would.
    pub(super) fn takes_condition(&self, at: usize) -> bool {
        self.parameters.get(at).is_some_and(|parameter| parameter.sort == Sort::YesNo)
    }
}

/// A function of values.
type OfValues = fn(&[Value]) -> Result<Value, Unknown>;

/// How a function is worked out.
#[derive(Clone, Copy, Debug)]
pub enum Work {
    /// From values of any kind.
    Values(OfValues),
    /// From numbers. `plain` is the same without uncertainty and without a reason when there is
    /// no result; it is only given numbers.
    Numbers {
        /// With uncertainty.
        run: OfValues,
        /// Plainly, for draws.
        plain: fn(&[f64]) -> Option<f64>,
    },
}

impl Work {
    /// The result.
    ///
    /// # Errors
    /// [`Unknown`] with the reason why there is none.
    pub fn run(self, given: &[Value]) -> Result<Value, Unknown> {
        match self {
            Work::Values(run) | Work::Numbers { run, .. } => run(given),
        }
    }
}

impl Function {
    /// `name(a: pressure, b: volume) -> number`, optional parameters in square brackets.
    pub fn signature(&self) -> String {
        let mut text = format!("{}(", self.name);
        for (at, parameter) in self.parameters.iter().enumerate() {
            if at > 0 {
                text.push_str(", ");
            }
            let shown = format!("{}: {}", parameter.name, parameter.sort.shown());
            text.push_str(&if parameter.optional { format!("[{shown}]") } else { shown });
        }
        format!("{text}) -> {}", self.gives.shown())
    }
}
