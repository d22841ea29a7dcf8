//! Calls: arguments against a function's signature.

use std::fmt;

use super::{Checker, Found};
use crate::lang::part::TypedNode;
use crate::lang::{Collapse, Expr, Function, Problem, Sort, Type};
use crate::quantity::{FORMULA_CONFIDENCES, Kind, Measure};
use crate::source::Span;
use crate::words::{counted, did_you_mean};

/// The name that writes a series out; it takes any number of values, so it is no function.
const SERIES: &str = "series";

const NO_CONFIDENCE: &str = "a confidence is a number from 50 % to 99.99 %";

/// What the shared sorts of a signature stand for in one call.
#[derive(Default)]
struct CallKinds {
    measure: Option<Measure>,
    element: Option<Kind>,
}

impl Checker<'_> {
    pub(super) fn call(&mut self, name: &str, place: Span, arguments: &[Expr], span: Span) -> Option<Found> {
        if name == SERIES {
            return self.literal_series(arguments, span);
        }
        let Some(function) = self.scope.function(name) else {
            let remedy = did_you_mean(name, self.scope.function_names());
            let message = format!("there is no function `{name}`");
            return self.fault(Problem::new("unknown-function", place, message, remedy));
        };
        self.right_number(function, arguments.len(), span)?;
        let mut bound = CallKinds::default();
        let mut parts = Vec::with_capacity(arguments.len());
        for (argument, parameter) in arguments.iter().zip(function.parameters) {
            let place = format_args!("`{}` of {name}", parameter.name);
            let sort = match (parameter.sort, arguments.len()) {
                (Sort::SameOrSeries, 1) => Sort::SeriesOfSame,
                (Sort::SameOrSeries, _) => Sort::Same,
                (sort, _) => sort,
            };
            parts.push(self.argument(argument, sort, &place, &mut bound));
        }
        let parts: Vec<TypedNode> = parts.into_iter().collect::<Option<_>>()?;
        Some(Found::of(TypedNode::Call(function, parts), result(function.gives, &bound), span))
    }

    /// `series(a, b, …)`: several values of one kind, as a run would give them.
    fn literal_series(&mut self, arguments: &[Expr], span: Span) -> Option<Found> {
        let mut all = Vec::with_capacity(arguments.len());
        let mut kind: Option<Kind> = None;
        for argument in arguments {
            let found = self.one(argument, kind.as_ref().and_then(Kind::measure))?;
            let joined = match (&kind, found.ty.kind()) {
                (None, one) => one.clone(),
                (Some(Kind::OneOf(a)), Kind::OneOf(b)) => {
                    let more = b.iter().filter(|word| !a.contains(word)).cloned();
                    Kind::OneOf(a.iter().cloned().chain(more).collect())
                }
                (Some(kind), _) => kind.clone(),
            };
            all.push(self.must_be(found, &joined, &"one of a series")?.part);
            kind = Some(joined);
        }
        let Some(kind) = kind else {
            let message = "a series needs at least one value";
            return self.fault(Problem::new("wrong-number", span, message, "write series(36 psi, 38 psi)"));
        };
        Some(Found::of(TypedNode::Series(all), Type::Series(kind, Collapse::Last), span))
    }

    fn right_number(&mut self, function: &'static Function, given: usize, span: Span) -> Option<()> {
        let (least, most) = (function.required(), function.parameters.len());
        if (least..=most).contains(&given) {
            return Some(());
        }
        let expected = if least == most {
            counted(most, "value")
        } else {
            format!("{least} to {}", counted(most, "value"))
        };
        let name = function.name;
        let remedy = match function.parameters {
            [only] if only.sort.is_series() => format!("write {name}(series(36 psi, 38 psi))"),
            _ => format!("write {}", function.signature()),
        };
        let message = format!("{name} takes {expected}, and {given} stand here");
        self.fault(Problem::new("wrong-number", span, message, remedy))
    }

    fn argument(
        &mut self,
        argument: &Expr,
        sort: Sort,
        place: &dyn fmt::Display,
        bound: &mut CallKinds,
    ) -> Option<TypedNode> {
        match sort {
            Sort::Is(measure) => self.measured(argument, measure, place),
            Sort::StepOfSame => {
                let step = bound.measure.unwrap_or(Measure::Number).difference();
                self.measured(argument, step, place)
            }
            Sort::Confidence => {
                let part = self.measured(argument, Measure::Number, place)?;
                if !matches!(part, TypedNode::Amount(_, confidence) if FORMULA_CONFIDENCES.contains(&confidence))
                {
                    let remedy = "write 95 %, or leave it off";
                    return self.fault(Problem::new("no-confidence", argument.span, NO_CONFIDENCE, remedy));
                }
                Some(part)
            }
            Sort::YesNo => self.yes_no(argument),
            Sort::Words(words) => {
                let found = self.one(argument, None)?;
                Some(self.must_be(found, &Kind::one_of(words), place)?.part)
            }
            Sort::Same | Sort::Difference => self.shared(argument, sort, place, bound),
            _ => self.series(argument, sort, place, bound),
        }
    }

    /// An argument that must be of one measure.
    fn measured(&mut self, argument: &Expr, measure: Measure, place: &dyn fmt::Display) -> Option<TypedNode> {
        let found = self.one(argument, Some(measure))?;
        Some(self.must_be(found, &Kind::Measure(measure), place)?.part)
    }

    fn shared(
        &mut self,
        argument: &Expr,
        sort: Sort,
        place: &dyn fmt::Display,
        bound: &mut CallKinds,
    ) -> Option<TypedNode> {
        if let Some(measure) = bound.measure {
            return self.measured(argument, measure, place);
        }
        let found = self.one(argument, None)?;
        let found = match (sort, found.measure()) {
            (Sort::Difference, Some(measure)) if found.loose.is_some() => found.fitted(measure.difference()),
            _ => found,
        };
        match found.measure() {
            Some(measure) if sort == Sort::Same || measure.change().is_none() => {
                bound.measure = Some(measure);
                Some(found.part)
            }
            Some(measure) => {
                let message = format!("a difference is wanted as {place}, and this is {}", measure.phrase());
                let problem = Problem::new("wrong-kind", found.span, message, "subtract two of them first");
                self.fault(problem.label(format!("this is {}", found.ty)))
            }
            None => {
                let message =
                    format!("a number or measured value is wanted as {place}, and this is {}", found.ty);
                self.fault(Problem::new("wrong-kind", found.span, message, "give a measured value"))
            }
        }
    }

    fn series(
        &mut self,
        argument: &Expr,
        sort: Sort,
        place: &dyn fmt::Display,
        bound: &mut CallKinds,
    ) -> Option<TypedNode> {
        let found = self.infer(argument, None)?;
        let Type::Series(kind, _) = &found.ty else {
            let message = format!("a series of answers is wanted as {place}, and this is {}", found.ty);
            let remedy =
                "name a step with `times` or one inside `repeat` or `each`, or write series(36 psi, 38 psi)";
            return self.fault(Problem::new("not-a-series", found.span, message, remedy));
        };
        let right = match (sort, kind) {
            (Sort::SeriesOf(measure), Kind::Measure(found)) => *found == measure,
            (Sort::SeriesOfSame, Kind::Measure(_)) => true,
            (Sort::SeriesOfAny, _) => true,
            _ => false,
        };
        if !right {
            let message = format!("{} is wanted as {place}, and this is {}", sort.shown(), found.ty);
            let remedy = "name a step that reads the right kind";
            return self.fault(Problem::new("wrong-kind", found.span, message, remedy));
        }
        if let Kind::Measure(measure) = kind {
            bound.measure = Some(*measure);
        }
        bound.element = Some(kind.clone());
        Some(found.part)
    }
}

fn result(gives: Sort, bound: &CallKinds) -> Type {
    let shared = bound.measure.unwrap_or(Measure::Number);
    match gives {
        Sort::Is(measure) => Type::measure(measure),
        Sort::Confidence => Type::measure(Measure::Number),
        Sort::Same | Sort::Difference => Type::measure(shared),
        Sort::ChangeOfSame | Sort::StepOfSame => Type::measure(shared.difference()),
        Sort::Element => Type::One(bound.element.clone().unwrap_or(Kind::Text)),
        Sort::Words(words) => Type::One(Kind::one_of(words)),
        Sort::YesNo | Sort::SameOrSeries | Sort::SeriesOfSame | Sort::SeriesOf(_) | Sort::SeriesOfAny => {
            Type::One(Kind::YesNo)
        }
    }
}
