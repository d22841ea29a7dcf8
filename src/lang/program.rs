//! An expression made ready to be evaluated ten thousand times: names looked up once, numbers plain.
//!
//! It does what `eval` does of an expression whose values are exact, and moves every uncertainty that
//! comes about on the way as the draw says. Of what it cannot work out it does not say why.

use smallvec::SmallVec;

use super::draw::{Draw, PlainValue};
use super::draw_plan::{DrawPlan, Shift};
use super::eval::{compare, is_certain};
use super::part::TypedNode;
use super::{Collapse, Comparison, Function, Sort, Value, Work};
use crate::quantity::{Measure, Operator, Truth, rectangular_u};

/// An expression made ready.
#[derive(Debug)]
pub(super) enum Program {
    Number(Measure, f64),
    Other(Value),
    Missing,
    Reading(Measure, f64, Box<[(Shift, f64)]>),
    Derived(usize),
    Known(usize),
    One(Box<Program>, Collapse),
    Minus(Box<Program>),
    Not(Box<Program>),
    And(Box<Program>, Box<Program>),
    Or(Box<Program>, Box<Program>),
    Compare(Comparison, Box<Program>, Box<Program>),
    Within(Box<PlainLimit>),
    Arithmetic(Operator, Measure, Box<Program>, Box<Program>),
    If(Box<[Program; 3]>),
    Otherwise(Box<Program>, Box<Program>),
    Series(Vec<Program>),
    /// The newest of a series, and those before it.
    Newest(Box<Program>, Vec<Program>),
    Call(&'static Function, Vec<Program>),
    /// What the confidence of the run stands for.
    Confidence(f64),
}

/// What stands around a `+-`, made ready.
#[derive(Debug)]
pub(super) struct PlainLimit {
    shift: Shift,
    estimate: Program,
    limit: Program,
    relative: bool,
}

/// The function that is the mean of a series.
const MEAN: &str = "mean";

/// Makes expressions ready: what names stand for, the first so many derived values among them.
struct Maker<'p> {
    plan: &'p DrawPlan<'p>,
    derived: usize,
}

impl Program {
    /// Makes a part ready; `derived` values are worked out before it.
    pub fn new(part: &TypedNode, plan: &DrawPlan<'_>, derived: usize) -> Program {
        Maker { plan, derived }.part(part)
    }

    /// Makes a derived value of a plan ready: of a series its newest.
    pub fn of_derived(plan: &DrawPlan<'_>, at: usize) -> Program {
        Maker { plan, derived: at }.part(&plan.derived[at].1.part)
    }
}

impl Maker<'_> {
    fn part(&self, part: &TypedNode) -> Program {
        let boxed = |part: &TypedNode| Box::new(self.part(part));
        match part {
            TypedNode::Amount(measure, si) => Program::Number(*measure, *si),
            TypedNode::Word(word) => Program::Other(Value::Text(word.clone())),
            TypedNode::YesNo(yes) => Program::Other(Value::Truth(Truth::certain(*yes))),
            TypedNode::Name(name) => match self.derived(name) {
                Some(at) => self.whole(name, at),
                None => self.plan.values.value(name).map_or(Program::Missing, |value| self.stored(value)),
            },
            TypedNode::Known(name) => match self.derived(name) {
                Some(at) => Program::Known(at),
                None => {
                    let known = self.plan.values.value(name).is_ok();
                    Program::Other(Value::Truth(Truth::certain(known)))
                }
            },
            TypedNode::One(inner, how) => {
                self.at_once(inner, *how).unwrap_or_else(|| Program::One(boxed(inner), *how))
            }
            TypedNode::Minus(inner) => Program::Minus(boxed(inner)),
            TypedNode::Not(inner) => Program::Not(boxed(inner)),
            TypedNode::And(a, b) => Program::And(boxed(a), boxed(b)),
            TypedNode::Or(a, b) => Program::Or(boxed(a), boxed(b)),
            TypedNode::Compare(comparison, a, b) => Program::Compare(*comparison, boxed(a), boxed(b)),
            TypedNode::Within(within) => Program::Within(Box::new(PlainLimit {
                shift: self.plan.shift(within.source),
                estimate: self.part(&within.estimate),
                limit: self.part(&within.limit),
                relative: within.relative,
            })),
            TypedNode::Arithmetic(operator, measure, a, b) => {
                Program::Arithmetic(*operator, *measure, boxed(a), boxed(b))
            }
            TypedNode::If(condition, yes, no) => {
                Program::If(Box::new([self.part(condition), self.part(yes), self.part(no)]))
            }
            TypedNode::Otherwise(a, b) => Program::Otherwise(boxed(a), boxed(b)),
            TypedNode::Series(parts) => Program::Series(self.parts(parts)),
            TypedNode::Call(function, arguments) => {
                if let Some(mean) = arguments.first().filter(|_| function.name == MEAN)
                    && let Some(mean) = self.mean_of_readings(mean)
                {
                    return mean;
                }
                let mut given = self.parts(arguments);
                if function.parameters.get(given.len()).is_some_and(|left| left.sort == Sort::Confidence) {
                    given.push(Program::Confidence(self.plan.values.confidence()));
                }
                Program::Call(function, given)
            }
        }
    }

    /// A derived value with what it was in earlier rounds.
    fn whole(&self, name: &str, at: usize) -> Program {
        match self.plan.values.value(name) {
            Ok(Value::Series(mut rounds)) => {
                rounds.pop();
                let earlier = rounds.into_iter().map(|round| self.stored(round)).collect();
                Program::Newest(Box::new(Program::Derived(at)), earlier)
            }
            _ => Program::Derived(at),
        }
    }

    /// What stands for the series of a name, without the rounds that do not count.
    fn at_once(&self, part: &TypedNode, how: Collapse) -> Option<Program> {
        let TypedNode::Name(name) = part else { return None };
        match self.derived(name) {
            Some(at) => (how != Collapse::Mean).then_some(Program::Derived(at)),
            None => Some(self.stored(self.plan.values.value(name).ok()?.collapsed(how).ok()?)),
        }
    }

    /// The mean of readings as they stand: what they were rounded to in common, a draw of each reading
    /// by itself could not tell.
    fn mean_of_readings(&self, part: &TypedNode) -> Option<Program> {
        let TypedNode::Name(name) = part else { return None };
        if self.derived(name).is_some() { None } else { self.at_once(part, Collapse::Mean) }
    }

    fn parts(&self, parts: &[TypedNode]) -> Vec<Program> {
        parts.iter().map(|part| self.part(part)).collect()
    }

    /// Where a name stands among the derived values.
    fn derived(&self, name: &str) -> Option<usize> {
        self.plan.derived[..self.derived].iter().position(|(known, _)| known == name)
    }

    fn stored(&self, value: Value) -> Program {
        match value {
            Value::Amount(measure, amount) => {
                let parts = amount.components().iter();
                let parts = parts.map(|(source, part)| (self.plan.shift(*source), *part)).collect();
                Program::Reading(measure, amount.value(), parts)
            }
            Value::Series(items) => {
                Program::Series(items.into_iter().map(|item| self.stored(item)).collect())
            }
            other => Program::Other(other),
        }
    }
}

impl Program {
    /// The value in a draw.
    pub fn value(&self, draw: &Draw<'_>) -> Option<PlainValue> {
        match self {
            Program::Number(measure, si) => Some(PlainValue::Number(*measure, *si)),
            Program::Confidence(confidence) => Some(PlainValue::Number(Measure::Number, *confidence)),
            Program::Other(value) => Some(PlainValue::other(value.clone())),
            Program::Missing => None,
            Program::Reading(measure, value, parts) => {
                let shift: f64 = parts.iter().map(|(shift, part)| part * draw.shift(*shift)).sum();
                Some(PlainValue::Number(*measure, value + shift))
            }
            Program::Derived(at) => draw.computed(*at).cloned(),
            Program::One(inner, how) => match inner.value(draw)? {
                one @ PlainValue::Number(..) => Some(one),
                PlainValue::Numbers(measure, items) if *how != Collapse::Mean => {
                    Some(PlainValue::Number(measure, *items.last()?))
                }
                several => Some(PlainValue::moved(several.into_value().collapsed(*how).ok()?, draw)),
            },
            Program::Minus(inner) => {
                let (measure, x) = inner.number(draw)?;
                Some(PlainValue::Number(measure, -x))
            }
            Program::Within(within) => within.value(draw),
            Program::Arithmetic(operator, measure, a, b) => {
                let ((_, a), (_, b)) = (a.number(draw)?, b.number(draw)?);
                finite(*measure, arithmetic(*operator, a, b)?)
            }
            Program::If(parts) => {
                let [condition, yes, no] = &**parts;
                if condition.truth(draw)?.best { yes.value(draw) } else { no.value(draw) }
            }
            Program::Otherwise(a, b) => a.value(draw).or_else(|| b.value(draw)),
            Program::Series(parts) => PlainValue::series(parts.iter().map(|part| part.value(draw))),
            Program::Newest(newest, earlier) => {
                let newest = newest.value(draw)?;
                let earlier = earlier.iter().map(|part| part.value(draw));
                PlainValue::series(earlier.chain([Some(newest)]))
            }
            Program::Call(function, arguments) => called(function, arguments, draw),
            Program::Known(_)
            | Program::Not(_)
            | Program::And(..)
            | Program::Or(..)
            | Program::Compare(..) => Some(PlainValue::other(Value::Truth(self.truth(draw)?))),
        }
    }

    fn number(&self, draw: &Draw<'_>) -> Option<(Measure, f64)> {
        match self.value(draw)? {
            PlainValue::Number(measure, x) => Some((measure, x)),
            PlainValue::Numbers(..) | PlainValue::Other(_) => None,
        }
    }

    fn truth(&self, draw: &Draw<'_>) -> Option<Truth> {
        match self {
            Program::Known(at) => Some(Truth::certain(draw.computed(*at).is_some())),
            Program::Not(inner) => Some(inner.truth(draw)?.not()),
            Program::And(a, b) => {
                let a = a.truth(draw)?;
                if a.most == 0.0 { Some(a) } else { Some(a.and(b.truth(draw)?)) }
            }
            Program::Or(a, b) => {
                let a = a.truth(draw)?;
                if a.least == 1.0 { Some(a) } else { Some(a.or(b.truth(draw)?)) }
            }
            Program::Compare(comparison, a, b) => {
                Some(Truth::certain(holds(*comparison, a.value(draw)?, b.value(draw)?)?))
            }
            _ => match self.value(draw)?.into_value() {
                Value::Truth(truth) => Some(truth),
                Value::Amount(..) | Value::Text(_) | Value::Series(_) => None,
            },
        }
    }
}

/// Whether a comparison holds between two values of one draw.
pub(super) fn holds(comparison: Comparison, a: PlainValue, b: PlainValue) -> Option<bool> {
    match (a, b) {
        (PlainValue::Number(_, a), PlainValue::Number(_, b)) => Some(is_certain(comparison, a, b)),
        (a, b) => Some(compare(comparison, a.into_value(), b.into_value()).ok()?.best),
    }
}

impl PlainLimit {
    fn value(&self, draw: &Draw<'_>) -> Option<PlainValue> {
        let ((measure, estimate), (_, limit)) = (self.estimate.number(draw)?, self.limit.number(draw)?);
        let u = rectangular_u(limit * if self.relative { estimate } else { 1.0 });
        let shift = if u == 0.0 { 0.0 } else { u * draw.shift(self.shift) };
        finite(measure, estimate + shift)
    }
}

fn arithmetic(operator: Operator, a: f64, b: f64) -> Option<f64> {
    match operator {
        Operator::Add => Some(a + b),
        Operator::Subtract => Some(a - b),
        Operator::Multiply => Some(a * b),
        Operator::Divide => (b != 0.0).then(|| a / b),
    }
}

fn finite(measure: Measure, x: f64) -> Option<PlainValue> {
    x.is_finite().then_some(PlainValue::Number(measure, x))
}

fn called(function: &'static Function, arguments: &[Program], draw: &Draw<'_>) -> Option<PlainValue> {
    let given = arguments.iter().map(|argument| argument.value(draw));
    let given = given.collect::<Option<SmallVec<[PlainValue; 8]>>>()?;
    if let (Work::Numbers { plain, .. }, Some(numbers)) = (function.work, numbers(&given)) {
        return finite(measure_of(function, &given)?, plain(&numbers)?);
    }
    let given: Vec<Value> = given.into_iter().map(PlainValue::into_value).collect();
    match PlainValue::moved(function.work.run(&given).ok()?, draw) {
        PlainValue::Number(measure, x) => finite(measure, x),
        other @ (PlainValue::Numbers(..) | PlainValue::Other(_)) => Some(other),
    }
}

/// What a function of numbers gives: a measure of its own, or that of what it is given first.
fn measure_of(function: &Function, given: &[PlainValue]) -> Option<Measure> {
    match (function.gives, given.first()) {
        (Sort::Is(measure), _) => Some(measure),
        (_, Some(PlainValue::Number(measure, _) | PlainValue::Numbers(measure, _))) => Some(*measure),
        _ => None,
    }
}

/// The arguments when all of them are numbers, or there is one: a series of numbers.
fn numbers(given: &[PlainValue]) -> Option<SmallVec<[f64; 8]>> {
    if let [PlainValue::Numbers(_, items)] = given {
        return Some(SmallVec::from_slice(items));
    }
    given
        .iter()
        .map(|one| match one {
            PlainValue::Number(_, x) => Some(*x),
            PlainValue::Numbers(..) | PlainValue::Other(_) => None,
        })
        .collect()
}
