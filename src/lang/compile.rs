//! From the tree of a checked expression to a flat program: names looked up once.

use super::draw_plan::{DrawPlan, Shift};
use super::eval::value;
use super::part::{TypedNode, Within};
use super::program::{Op, Operand, Program, Register, UNKNOWN, ValueOp, yes};
use super::{Collapse, Function, Sort, Value, Work};
use crate::quantity::{Measure, Truth, Uncertain};

/// The function that is the mean of a series.
const MEAN: &str = "mean";

/// Makes the program of expressions that share a plan.
pub(super) struct Compiler<'p> {
    plan: &'p DrawPlan<'p>,
    pub(super) program: Program,
    /// Where the derived values of the plan stand, as far as they are made.
    derived: Vec<Register>,
}

impl<'p> Compiler<'p> {
    /// Begins with the derived values of a plan: of a series its newest.
    pub(super) fn new(plan: &'p DrawPlan<'p>) -> Compiler<'p> {
        let mut compiler = Compiler { plan, program: Program::default(), derived: Vec::new() };
        for (_, formula) in &plan.derived {
            let at = compiler.number(&formula.part);
            compiler.derived.push(at);
        }
        compiler
    }

    /// What was made.
    pub(super) fn finish(self) -> Program {
        self.program
    }

    /// A part that is a number; where it stands.
    pub(super) fn number(&mut self, part: &TypedNode) -> Register {
        let operand = self.part(part);
        self.number_of(operand)
    }

    /// A value to first order, with all that it is uncertain by; where it stands.
    pub(super) fn first_order(&mut self, amount: &Uncertain) -> Register {
        let parts = amount.components().iter();
        let known = parts.filter_map(|(source, part)| Some((self.plan.any_place_of(*source)?, *part)));
        let known: Vec<(usize, f64)> = known.collect();
        self.moved(amount.value(), known)
    }

    /// A new register, and what stands in it at first.
    pub(super) fn register(&mut self, begins_with: f64) -> Register {
        self.program.numbers.push(begins_with);
        self.program.numbers.len() - 1
    }

    /// A new place for what is no number.
    pub(super) fn wide(&mut self) -> Operand {
        self.program.wide += 1;
        Operand::Wide(self.program.wide - 1)
    }

    /// A number that is the same in every draw.
    pub(super) fn constant(&mut self, measure: Measure, x: f64) -> Operand {
        Operand::Number(measure, self.register(x))
    }

    /// Adds an operation that writes to a new register.
    pub(super) fn add(&mut self, op: impl FnOnce(Register) -> Op) -> Register {
        let to = self.register(UNKNOWN);
        self.program.ops.push(op(to));
        to
    }

    /// Leaves room for an operation that is told later.
    pub(super) fn room(&mut self) -> usize {
        self.program.ops.push(Op::Jump { target: self.program.ops.len() + 1 });
        self.program.ops.len() - 1
    }

    /// Where the next operation comes to stand.
    pub(super) fn end(&self) -> usize {
        self.program.ops.len()
    }

    fn moved(&mut self, value: f64, parts: impl IntoIterator<Item = (usize, f64)>) -> Register {
        let from = self.program.parts.len();
        self.program.parts.extend(parts);
        let parts = from..self.program.parts.len();
        self.add(|to| Op::Moved { to, value, parts })
    }

    /// Where an operand's number stands.
    pub(super) fn number_of(&mut self, operand: Operand) -> Register {
        match operand {
            Operand::Number(_, at) => at,
            wide @ Operand::Wide(_) => {
                self.add(|to| Op::Copied { to: Operand::Number(Measure::Number, to), from: wide })
            }
            Operand::Truth(_) | Operand::Series(_) | Operand::Constant(_) => self.register(UNKNOWN),
        }
    }

    /// A part that is a yes or no; where it stands.
    pub(super) fn truth(&mut self, part: &TypedNode) -> Register {
        match self.part(part) {
            Operand::Truth(at) => at,
            Operand::Constant(Value::Truth(truth)) => self.register(yes(truth.best)),
            wide @ Operand::Wide(_) => self.add(|to| Op::Copied { to: Operand::Truth(to), from: wide }),
            Operand::Number(..) | Operand::Series(_) | Operand::Constant(_) => self.register(UNKNOWN),
        }
    }

    /// Any part; where its value stands.
    pub(super) fn part(&mut self, part: &TypedNode) -> Operand {
        match part {
            TypedNode::Amount(measure, si) => self.constant(*measure, *si),
            TypedNode::Word(word) => Operand::Constant(Value::Text(word.clone())),
            TypedNode::YesNo(yes) => Operand::Constant(Value::Truth(Truth::certain(*yes))),
            TypedNode::Name(name) => self.name(name),
            TypedNode::Known(name) => match self.derived(name) {
                Some(of) => Operand::Truth(self.add(|to| Op::Known { to, of })),
                None => Operand::Constant(Value::Truth(Truth::certain(self.plan.values.value(name).is_ok()))),
            },
            TypedNode::One(inner, how) => self.one(inner, *how),
            TypedNode::Minus(inner) => {
                let operand = self.part(inner);
                let measure = measure_of_operand(&operand);
                let of = self.number_of(operand);
                Operand::Number(measure, self.add(|to| Op::Negated { to, of }))
            }
            TypedNode::Not(inner) => {
                let of = self.truth(inner);
                Operand::Truth(self.add(|to| Op::Not { to, of }))
            }
            TypedNode::And(a, b) => self.joined_truths(a, b, 1.0),
            TypedNode::Or(a, b) => self.joined_truths(a, b, 0.0),
            TypedNode::Compare(comparison, a, b) => self.comparison(*comparison, a, b),
            TypedNode::Within(within) => self.within(within),
            TypedNode::Arithmetic(operator, measure, a, b) => {
                let (operator, of) = (*operator, [self.number(a), self.number(b)]);
                Operand::Number(*measure, self.add(|to| Op::Arithmetic { to, operator, of }))
            }
            TypedNode::If(condition, yes, no) => self.conditional(condition, yes, no),
            TypedNode::Otherwise(a, b) => self.otherwise(a, b),
            TypedNode::Series(parts) => Operand::Series(parts.iter().map(|part| self.part(part)).collect()),
            // Decided by the readings as they are, whatever they are off by.
            TypedNode::Call(function, _) if function.takes_condition(0) => {
                match value(part, self.plan.values) {
                    Ok(decided) => Operand::Constant(decided),
                    Err(_) => self.constant(Measure::Number, UNKNOWN),
                }
            }
            TypedNode::Call(function, arguments) => self.call(function, arguments),
        }
    }

    /// A name: a derived value, with what it was in earlier rounds, or what is stored.
    fn name(&mut self, name: &str) -> Operand {
        let stored = self.plan.values.value(name);
        let Some(at) = self.derived(name) else {
            return match stored {
                Ok(value) => self.stored(value),
                Err(_) => self.constant(Measure::Number, UNKNOWN),
            };
        };
        match stored {
            Ok(Value::Series(mut rounds)) => {
                let measure = rounds.pop().map_or(Measure::Number, |newest| measure_of_value(&newest));
                let earlier = rounds.into_iter().map(|round| self.stored(round));
                let mut operands: Vec<Operand> = earlier.collect();
                operands.push(Operand::Number(measure, at));
                Operand::Series(operands)
            }
            Ok(value) => Operand::Number(measure_of_value(&value), at),
            Err(_) => Operand::Number(Measure::Number, at),
        }
    }

    /// Where a derived value stands.
    fn derived(&self, name: &str) -> Option<Register> {
        let known = self.plan.derived.iter().zip(&self.derived);
        known.into_iter().find(|((known, _), _)| **known == *name).map(|(_, at)| *at)
    }

    fn stored(&mut self, value: Value) -> Operand {
        match value {
            Value::Amount(measure, amount) if amount.components().is_empty() => {
                self.constant(measure, amount.value())
            }
            Value::Amount(measure, amount) => {
                let (mut known, mut met) = (Vec::new(), Vec::new());
                for (source, part) in amount.components() {
                    match self.plan.shift(*source) {
                        Shift::Known(at) => known.push((at, *part)),
                        Shift::Met(source) => met.push((source, *part)),
                    }
                }
                let to = self.moved(amount.value(), known);
                self.program.ops.extend(met.into_iter().map(|(source, part)| Op::Met { to, source, part }));
                Operand::Number(measure, to)
            }
            Value::Series(items) => {
                Operand::Series(items.into_iter().map(|item| self.stored(item)).collect())
            }
            other @ (Value::Truth(_) | Value::Text(_)) => Operand::Constant(other),
        }
    }

    /// One value in place of a series.
    fn one(&mut self, inner: &TypedNode, how: Collapse) -> Operand {
        if let Some(operand) = self.at_once(inner, how) {
            return operand;
        }
        match self.part(inner) {
            Operand::Series(mut operands) if how != Collapse::Mean && !operands.is_empty() => {
                operands.pop().unwrap_or(Operand::Series(Vec::new()))
            }
            Operand::Series(operands) => {
                let measure = operands.last().map_or(Measure::Number, measure_of_operand);
                let work = ValueOp::Collapse(how);
                Operand::Number(
                    measure,
                    self.add(|at| Op::Values {
                        to: Operand::Number(measure, at),
                        work,
                        given: vec![Operand::Series(operands)],
                    }),
                )
            }
            wide @ Operand::Wide(_) => {
                let to = self.wide();
                let work = ValueOp::Collapse(how);
                self.program.ops.push(Op::Values { to: to.clone(), work, given: vec![wide] });
                to
            }
            one @ (Operand::Number(..) | Operand::Truth(_) | Operand::Constant(_)) => one,
        }
    }

    /// What stands for the series of a name, without the rounds that do not count.
    fn at_once(&mut self, part: &TypedNode, how: Collapse) -> Option<Operand> {
        let TypedNode::Name(name) = part else { return None };
        let derived = self.derived(name);
        if derived.is_some() && how == Collapse::Mean {
            return None;
        }
        let one = self.plan.values.one(name, how).ok()?;
        Some(match derived {
            Some(at) => Operand::Number(measure_of_value(&one), at),
            None => self.stored(one),
        })
    }

    fn within(&mut self, within: &Within) -> Operand {
        let operand = self.part(&within.estimate);
        let measure = measure_of_operand(&operand);
        let (estimate, limit) = (self.number_of(operand), self.number(&within.limit));
        let (relative, shift) = (within.relative, self.plan.shift(within.source));
        Operand::Number(measure, self.add(|to| Op::Limited { to, estimate, limit, relative, shift }))
    }

    fn call(&mut self, function: &'static Function, arguments: &[TypedNode]) -> Operand {
        // Readings as they stand: what they were rounded to in common, a draw of each by itself could not tell.
        if let [TypedNode::Name(name)] = arguments
            && function.name == MEAN
            && self.derived(name).is_none()
            && let Some(mean) = self.at_once(&arguments[0], Collapse::Mean)
        {
            return mean;
        }
        let mut given: Vec<Operand> = arguments.iter().map(|part| self.part(part)).collect();
        if function.parameters.get(given.len()).is_some_and(|left| left.sort == Sort::Confidence) {
            let confidence = self.plan.values.confidence();
            given.push(self.constant(Measure::Number, confidence));
        }
        let measure = given_measure(function, &given);
        if let (Work::Numbers { plain, .. }, Some(numbers)) = (function.work, numbers(&given)) {
            let from = self.program.given.len();
            self.program.given.extend(numbers);
            let given = from..self.program.given.len();
            let to = self.add(|to| Op::Numbers { to, work: plain, given });
            return Operand::Number(measure.unwrap_or(Measure::Number), to);
        }
        let to = match (function.gives, measure) {
            (Sort::YesNo, _) => Operand::Truth(self.register(UNKNOWN)),
            (_, Some(measure)) => self.constant(measure, UNKNOWN),
            _ => self.wide(),
        };
        self.program.ops.push(Op::Values { to: to.clone(), work: ValueOp::Call(function), given });
        to
    }
}

/// The registers of arguments that are all numbers, or one series of them.
fn numbers(given: &[Operand]) -> Option<Vec<Register>> {
    let given = if let [Operand::Series(items)] = given { items } else { given };
    let register = |operand: &Operand| if let Operand::Number(_, at) = operand { Some(*at) } else { None };
    given.iter().map(register).collect()
}

/// What a function gives, where that is a number: a measure of its own, or that of what it is given first.
fn given_measure(function: &Function, given: &[Operand]) -> Option<Measure> {
    let first = match given.first() {
        Some(Operand::Number(measure, _)) => Some(*measure),
        Some(Operand::Series(items)) => match items.first() {
            Some(Operand::Number(measure, _)) => Some(*measure),
            _ => None,
        },
        _ => None,
    };
    match function.gives {
        Sort::Is(measure) => Some(measure),
        Sort::ChangeOfSame => first.map(Measure::difference),
        Sort::YesNo | Sort::Words(_) => None,
        _ => first,
    }
}

fn measure_of_operand(operand: &Operand) -> Measure {
    if let Operand::Number(measure, _) = operand { *measure } else { Measure::Number }
}

fn measure_of_value(value: &Value) -> Measure {
    if let Value::Amount(measure, _) = value { *measure } else { Measure::Number }
}
