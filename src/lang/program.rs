//! Expressions as a flat list of operations on plain numbers, computed once for every draw.
//!
//! It does what `eval` does of an expression whose values are exact, and moves every uncertainty that
//! comes about on the way as the draw says. What cannot be worked out is not a number, and says not why.
//! Each operation writes to a register of its own; a yes or no is 1 or 0.

use std::ops::Range;

use super::draw_plan::{DrawPlan, Shift};
use super::eval::{compare, is_certain};
use super::{Collapse, Comparison, Function, Unknown, Value};
use crate::quantity::{Measure, Operator, SourceId, Truth, Uncertain, rectangular_u};

/// Where a number stands.
pub(super) type Register = usize;

/// What stands for a number that cannot be worked out.
pub(super) const UNKNOWN: f64 = f64::NAN;

/// Where the value of a part of an expression stands.
#[derive(Clone, Debug)]
pub(super) enum Operand {
    /// A number, in a register.
    Number(Measure, Register),
    /// A yes or no, in a register.
    Truth(Register),
    /// Several values.
    Series(Vec<Operand>),
    /// Anything else that draws decide over, by its place among such values.
    Wide(usize),
    /// Anything else, the same in every draw.
    Constant(Value),
}

/// What is computed from values that need not be numbers.
pub(super) enum ValueOp {
    /// What a function gives.
    Call(&'static Function),
    /// One value in place of a series.
    Collapse(Collapse),
    /// Whether two compare so.
    Compare(Comparison),
}

/// How a function computes a plain number.
type NumberOp = fn(&[f64]) -> Option<f64>;

/// One operation.
pub(super) enum Op {
    /// A value, with what its sources contribute.
    Moved { to: Register, value: f64, parts: Range<usize> },
    /// What a source that comes about in a draw contributes besides.
    Met { to: Register, source: SourceId, part: f64 },
    /// A value within limits, the limit perhaps a share of it.
    Limited { to: Register, estimate: Register, limit: Register, relative: bool, shift: Shift },
    /// The other way round.
    Negated { to: Register, of: Register },
    /// Two numbers added, subtracted, multiplied or divided.
    Arithmetic { to: Register, operator: Operator, of: [Register; 2] },
    /// A function of numbers.
    Numbers { to: Register, work: NumberOp, given: Range<usize> },
    /// Any function; the result is a number or a yes or no, or stands among the wide values.
    Values { to: Operand, work: ValueOp, given: Vec<Operand> },
    /// A comparison of two numbers.
    Compared { to: Register, comparison: Comparison, of: [Register; 2] },
    /// Whether a number is known.
    Known { to: Register, of: Register },
    /// A yes for a no.
    Not { to: Register, of: Register },
    /// The same in another place.
    Copied { to: Operand, from: Operand },
    /// On to another operation.
    Jump { target: usize },
    /// On to another operation, unless a yes or no is that.
    JumpUnless { of: Register, is: f64, target: usize },
    /// On to another operation, when a value is known.
    JumpIfKnown { of: Operand, target: usize },
}

/// Operations, and what they begin with.
#[derive(Default)]
pub(super) struct Program {
    /// The operations, in their order.
    pub ops: Vec<Op>,
    /// What the sources of moved values contribute.
    pub parts: Vec<(usize, f64)>,
    /// The registers that functions of numbers are given.
    pub given: Vec<Register>,
    /// What stands in the registers at first; what no operation writes to stays.
    pub numbers: Vec<f64>,
    /// How many wide values there are.
    pub wide: usize,
}

/// A program at work on one draw after another.
pub(super) struct Machine<'p> {
    program: &'p Program,
    plan: &'p DrawPlan<'p>,
    numbers: Vec<f64>,
    wide: Vec<Option<Value>>,
    /// Sources met in this draw that no reading has.
    met: Vec<SourceId>,
    /// What a function of numbers is given.
    given: Vec<f64>,
}

impl<'p> Machine<'p> {
    /// A program made ready.
    pub(super) fn new(program: &'p Program, plan: &'p DrawPlan<'p>) -> Machine<'p> {
        let (numbers, wide) = (program.numbers.clone(), vec![None; program.wide]);
        Machine { program, plan, numbers, wide, met: Vec::new(), given: Vec::new() }
    }

    /// What stands in a register after the last draw.
    pub(super) fn number(&self, at: Register) -> f64 {
        self.numbers[at]
    }

    /// Works everything out in a draw: how far each source is moved, in standard uncertainties.
    pub(super) fn draw(&mut self, moved: &[f64]) {
        self.met.clear();
        let (program, mut at) = (self.program, 0);
        while let Some(op) = program.ops.get(at) {
            at = self.step(op, moved).unwrap_or(at + 1);
        }
    }

    /// One operation; where to go on when that is not the next.
    #[inline]
    fn step(&mut self, op: &Op, moved: &[f64]) -> Option<usize> {
        match op {
            Op::Moved { to, value, parts } => {
                let parts = &self.program.parts[parts.clone()];
                let off: f64 = parts.iter().map(|(at, part)| part * moved[*at]).sum();
                self.numbers[*to] = value + off;
            }
            Op::Met { to, source, part } => {
                self.numbers[*to] += part * self.shift(Shift::Met(*source), moved);
            }
            Op::Limited { to, estimate, limit, relative, shift } => {
                let (estimate, limit) = (self.numbers[*estimate], self.numbers[*limit]);
                let u = rectangular_u(limit * if *relative { estimate } else { 1.0 });
                let off = if u == 0.0 { 0.0 } else { u * self.shift(*shift, moved) };
                self.numbers[*to] = finite(estimate + off);
            }
            Op::Negated { to, of } => self.numbers[*to] = -self.numbers[*of],
            Op::Arithmetic { to, operator, of: [a, b] } => {
                self.numbers[*to] = finite(arithmetic(*operator, self.numbers[*a], self.numbers[*b]));
            }
            Op::Numbers { to, work, given } => {
                self.given.clear();
                let registers = &self.program.given[given.clone()];
                self.given.extend(registers.iter().map(|at| self.numbers[*at]));
                let known = !self.given.iter().any(|x| x.is_nan());
                let result = if known { work(&self.given) } else { None };
                self.numbers[*to] = finite(result.unwrap_or(UNKNOWN));
            }
            Op::Values { to, work, given } => {
                let given = given.iter().map(|operand| self.value(operand)).collect::<Option<Vec<Value>>>();
                let result = given.and_then(|given| work.of(&given).ok());
                let result = result.map(|value| self.moved(value, moved));
                self.put(to, result);
            }
            Op::Compared { to, comparison, of: [a, b] } => {
                let (a, b) = (self.numbers[*a], self.numbers[*b]);
                let known = !a.is_nan() && !b.is_nan();
                self.numbers[*to] = if known { yes(is_certain(*comparison, a, b)) } else { UNKNOWN };
            }
            Op::Known { to, of } => self.numbers[*to] = yes(!self.numbers[*of].is_nan()),
            Op::Not { to, of } => self.numbers[*to] = 1.0 - self.numbers[*of],
            Op::Copied {
                to: Operand::Number(_, to) | Operand::Truth(to),
                from: Operand::Number(_, from) | Operand::Truth(from),
            } => {
                self.numbers[*to] = self.numbers[*from];
            }
            Op::Copied { to, from } => {
                let value = self.value(from);
                self.put(to, value);
            }
            Op::Jump { target } => return Some(*target),
            Op::JumpUnless { of, is, target } => return (self.numbers[*of] != *is).then_some(*target),
            Op::JumpIfKnown { of, target } => return self.is_known(of).then_some(*target),
        }
        None
    }

    /// How far a source is moved. One that came about in this draw has an identity of its own, made from the
    /// moved readings; the order in which they come about tells which it is.
    fn shift(&mut self, shift: Shift, moved: &[f64]) -> f64 {
        let at = match shift {
            Shift::Known(at) => at,
            Shift::Met(source) => {
                let met = self.met.iter().position(|other| *other == source).unwrap_or_else(|| {
                    self.met.push(source);
                    self.met.len() - 1
                });
                self.plan.sources.len() + self.plan.limits.len() + met
            }
        };
        moved.get(at).copied().unwrap_or(0.0)
    }

    /// A value with its uncertainties moved.
    fn moved(&mut self, value: Value, moved: &[f64]) -> Value {
        let mut at = |amount: Uncertain| {
            let mut off = 0.0;
            for (source, part) in amount.components() {
                off += part * self.shift(self.plan.shift(*source), moved);
            }
            Uncertain::exact(amount.value() + off)
        };
        match value {
            Value::Amount(measure, amount) => Value::Amount(measure, at(amount)),
            Value::Series(items) => {
                Value::Series(items.into_iter().map(|item| self.moved(item, moved)).collect())
            }
            other @ (Value::Truth(_) | Value::Text(_)) => other,
        }
    }

    fn is_known(&self, operand: &Operand) -> bool {
        match operand {
            Operand::Number(_, at) | Operand::Truth(at) => !self.numbers[*at].is_nan(),
            Operand::Wide(at) => self.wide[*at].is_some(),
            Operand::Series(operands) => operands.iter().all(|operand| self.is_known(operand)),
            Operand::Constant(_) => true,
        }
    }

    /// What stands in an operand, as a value of the language.
    fn value(&self, operand: &Operand) -> Option<Value> {
        if !self.is_known(operand) {
            return None;
        }
        match operand {
            Operand::Number(measure, at) => Some(Value::exact(*measure, self.numbers[*at])),
            Operand::Truth(at) => Some(Value::Truth(Truth::certain(self.numbers[*at] == 1.0))),
            Operand::Series(operands) => {
                operands.iter().map(|operand| self.value(operand)).collect::<Option<_>>().map(Value::Series)
            }
            Operand::Wide(at) => self.wide[*at].clone(),
            Operand::Constant(value) => Some(value.clone()),
        }
    }

    /// Puts a value in an operand.
    fn put(&mut self, operand: &Operand, value: Option<Value>) {
        match operand {
            Operand::Number(_, at) | Operand::Truth(at) => {
                self.numbers[*at] = match value {
                    Some(Value::Amount(_, amount)) => finite(amount.value()),
                    Some(Value::Truth(truth)) => yes(truth.best),
                    Some(Value::Text(_) | Value::Series(_)) | None => UNKNOWN,
                }
            }
            Operand::Wide(at) => self.wide[*at] = value,
            // Nothing is written there.
            Operand::Series(_) | Operand::Constant(_) => {}
        }
    }
}

impl ValueOp {
    fn of(&self, given: &[Value]) -> Result<Value, Unknown> {
        match (self, given) {
            (ValueOp::Call(function), _) => function.work.run(given),
            (ValueOp::Collapse(how), [series]) => series.clone().collapsed(*how),
            (ValueOp::Compare(comparison), [a, b]) => {
                compare(*comparison, a.clone(), b.clone()).map(Value::Truth)
            }
            (ValueOp::Collapse(_) | ValueOp::Compare(_), _) => Err(Unknown::because("Nothing was given.")),
        }
    }
}

pub(super) fn yes(holds: bool) -> f64 {
    if holds { 1.0 } else { 0.0 }
}

fn arithmetic(operator: Operator, a: f64, b: f64) -> f64 {
    match operator {
        Operator::Add => a + b,
        Operator::Subtract => a - b,
        Operator::Multiply => a * b,
        Operator::Divide => a / b,
    }
}

/// A result beyond all numbers is no result.
fn finite(x: f64) -> f64 {
    if x.is_finite() { x } else { UNKNOWN }
}
