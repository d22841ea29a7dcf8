//! Evaluating a checked expression.

use super::check::CheckedExpr;
use super::part::{TypedNode, Within};
use super::{Collapse, Comparison, Sort, Unknown, Value};
use crate::quantity::{CONFIDENCE, Measure, Operator, Truth, Uncertain, rectangular_u};

/// Where names get their values.
pub trait Values {
    /// The value of a name: for a series all of it.
    ///
    /// # Errors
    /// [`Unknown`] when it was not answered, with the reason.
    fn value(&self, name: &str) -> Result<Value, Unknown>;

    /// One value in place of all that a name has.
    ///
    /// # Errors
    /// As [`Values::value`].
    fn one(&self, name: &str, how: Collapse) -> Result<Value, Unknown> {
        self.value(name)?.collapsed(how)
    }

    /// The probability at which a check says pass or fail.
    fn confidence(&self) -> f64 {
        CONFIDENCE
    }

    /// A value as it stands where uncertainties have just come about: by a `+-`, in the mean of repeated
    /// readings, in a function.
    fn newly_uncertain(&self, value: Value) -> Value {
        value
    }

    /// A condition that a function is given, judged as a check would be; `None` where nobody knows what the values
    /// were worked out by, and first order has to do.
    fn judge(&self, _condition: GivenCondition<'_>) -> Option<Result<Truth, Unknown>> {
        None
    }
}

/// A yes or no that a function is given.
#[derive(Clone, Copy, Debug)]
pub struct GivenCondition<'a>(pub(super) &'a TypedNode);

impl CheckedExpr {
    /// The expression's value.
    ///
    /// # Errors
    /// [`Unknown`] when something it rests on was not answered or a formula is out of its range;
    /// nothing else can go wrong.
    pub fn value(&self, values: &dyn Values) -> Result<Value, Unknown> {
        value(&self.part, values)
    }

    /// The value of a yes/no expression.
    ///
    /// # Errors
    /// As [`CheckedExpr::value`].
    pub fn truth(&self, values: &dyn Values) -> Result<Truth, Unknown> {
        truth(&self.part, values)
    }
}

pub(super) fn value(part: &TypedNode, values: &dyn Values) -> Result<Value, Unknown> {
    match part {
        TypedNode::Amount(measure, si) => Ok(Value::exact(*measure, *si)),
        TypedNode::Word(word) => Ok(Value::Text(word.clone())),
        TypedNode::Name(name) => values.value(name),
        TypedNode::One(inner, how) => {
            let one = match &**inner {
                TypedNode::Name(name) => values.one(name, *how),
                several => value(several, values)?.collapsed(*how),
            };
            one.map(|one| values.newly_uncertain(one))
        }
        TypedNode::Minus(inner) => {
            let (measure, amount) = amount(inner, values)?;
            Ok(Value::Amount(measure, -amount))
        }
        TypedNode::Arithmetic(operator, measure, a, b) => arithmetic(*operator, *measure, a, b, values),
        TypedNode::Within(within) => with_limits(within, values),
        TypedNode::If(condition, yes, no) => {
            let branch = if truth(condition, values)?.best { yes } else { no };
            value(branch, values)
        }
        TypedNode::Series(parts) => {
            parts.iter().map(|part| value(part, values)).collect::<Result<_, _>>().map(Value::Series)
        }
        TypedNode::Otherwise(a, b) => value(a, values).or_else(|_| value(b, values)),
        TypedNode::Call(function, arguments) => {
            let given = arguments.iter().enumerate().map(|(at, argument)| {
                let condition = function.takes_condition(at).then_some(GivenCondition(argument));
                let judged = condition.and_then(|condition| values.judge(condition));
                judged.map_or_else(|| value(argument, values), |truth| truth.map(Value::Truth))
            });
            let mut given = given.collect::<Result<Vec<_>, _>>()?;
            if function.parameters.get(given.len()).is_some_and(|left| left.sort == Sort::Confidence) {
                given.push(Value::exact(Measure::Number, values.confidence()));
            }
            finite(values.newly_uncertain(function.work.run(&given)?), function.name)
        }
        TypedNode::YesNo(_)
        | TypedNode::Known(_)
        | TypedNode::Not(_)
        | TypedNode::And(..)
        | TypedNode::Or(..)
        | TypedNode::Compare(..) => truth(part, values).map(Value::Truth),
    }
}

fn arithmetic(
    operator: Operator,
    measure: Measure,
    a: &TypedNode,
    b: &TypedNode,
    values: &dyn Values,
) -> Result<Value, Unknown> {
    let (_, a) = amount(a, values)?;
    let (_, b) = amount(b, values)?;
    let result = match operator {
        Operator::Add => a + b,
        Operator::Subtract => a - b,
        Operator::Multiply => a * b,
        Operator::Divide if b.value() == 0.0 => return Err(Unknown::because("It would divide by zero.")),
        Operator::Divide => a / b,
    };
    finite(Value::Amount(measure, result), operator.sign())
}

/// The estimate, uncertain by its limits. What the limit itself rests on makes it no more uncertain.
fn with_limits(within: &Within, values: &dyn Values) -> Result<Value, Unknown> {
    let (measure, estimate) = amount(&within.estimate, values)?;
    let (_, limit) = amount(&within.limit, values)?;
    let whole = if within.relative { estimate.value() } else { 1.0 };
    let u = rectangular_u(limit.value() * whole);
    finite(values.newly_uncertain(Value::Amount(measure, estimate.with_component(within.source, u))), "+-")
}

/// A result beyond all numbers is no result.
fn finite(value: Value, maker: &str) -> Result<Value, Unknown> {
    match &value {
        Value::Amount(_, x) if !x.value().is_finite() || !x.standard_uncertainty().is_finite() => {
            Err(Unknown::because(format!("The result of {maker} is too large to be a number.")))
        }
        _ => Ok(value),
    }
}

fn amount(part: &TypedNode, values: &dyn Values) -> Result<(Measure, Uncertain), Unknown> {
    match value(part, values)? {
        Value::Amount(measure, amount) => Ok((measure, amount)),
        other => Err(Unknown::because(format!("{other:?} is not a number."))),
    }
}

pub(super) fn truth(part: &TypedNode, values: &dyn Values) -> Result<Truth, Unknown> {
    truth_by(part, values, &mut |comparison, a, b| compare(comparison, value(a, values)?, value(b, values)?))
}

/// How a comparison of two parts is judged.
pub(super) type Judge<'a> = dyn FnMut(Comparison, &TypedNode, &TypedNode) -> Result<Truth, Unknown> + 'a;

/// A yes or no whose comparisons are judged by `judge`.
pub(super) fn truth_by(
    part: &TypedNode,
    values: &dyn Values,
    judge: &mut Judge<'_>,
) -> Result<Truth, Unknown> {
    match part {
        TypedNode::YesNo(yes) => Ok(Truth::certain(*yes)),
        TypedNode::Known(name) => Ok(Truth::certain(values.value(name).is_ok())),
        TypedNode::Not(inner) => Ok(truth_by(inner, values, judge)?.not()),
        TypedNode::And(a, b) => {
            let a = truth_by(a, values, judge)?;
            // What cannot hold any more does not need the rest to be known.
            if a.most == 0.0 { Ok(a) } else { Ok(a.and(truth_by(b, values, judge)?)) }
        }
        TypedNode::Or(a, b) => {
            let a = truth_by(a, values, judge)?;
            if a.least == 1.0 { Ok(a) } else { Ok(a.or(truth_by(b, values, judge)?)) }
        }
        TypedNode::Compare(comparison, a, b) => judge(*comparison, a, b),
        _ => match value(part, values)? {
            Value::Truth(truth) => Ok(truth),
            other => Err(Unknown::because(format!("{other:?} is not a yes or no."))),
        },
    }
}

pub(super) fn compare(comparison: Comparison, a: Value, b: Value) -> Result<Truth, Unknown> {
    let (a, b) = match (a, b) {
        (Value::Amount(_, a), Value::Amount(_, b)) => (a, b),
        (a, b) => {
            let equal = match (&a, &b) {
                (Value::Truth(a), Value::Truth(b)) => a.best == b.best,
                (a, b) => a == b,
            };
            return Ok(Truth::certain(equal == (comparison == Comparison::Equal)));
        }
    };
    let margin = margin(a.value(), b.value());
    let difference = (b - a).map(margin, 1.0);
    Ok(match comparison {
        Comparison::AtMost => Truth::at_least_zero(&difference),
        Comparison::Less => Truth::above_zero(&difference),
        Comparison::AtLeast => Truth::at_least_zero(&-difference),
        Comparison::More => Truth::above_zero(&-difference),
        Comparison::Equal | Comparison::Unequal => Truth::certain(comparison.holds(margin)),
    })
}

/// The second less the first. Rounding in the conversion of units must not decide: 36.5 psi - 36 psi
/// is 0.5 psi.
fn margin(a: f64, b: f64) -> f64 {
    let noise = 1e-12 * (a.abs() + b.abs()).max(1e-12);
    if (b - a).abs() <= noise * 1e3 { 0.0 } else { b - a }
}

/// Whether a comparison of two numbers holds.
pub(super) fn is_certain(comparison: Comparison, a: f64, b: f64) -> bool {
    comparison.holds(margin(a, b))
}
