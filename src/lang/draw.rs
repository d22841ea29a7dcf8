//! One draw of a plan, and the values in it.

use std::cell::RefCell;

use super::Value;
use super::draw_plan::{DrawPlan, Shift};
use crate::quantity::{Measure, SourceId, Uncertain};

/// A value in one draw.
#[derive(Clone, Debug)]
pub(super) enum PlainValue {
    /// A number.
    Number(Measure, f64),
    /// A series of numbers of one measure.
    Numbers(Measure, Vec<f64>),
    /// Anything else, nothing of it uncertain; boxed, so that numbers stay small.
    Other(Box<Value>),
}

/// One draw: every source moved to where its error may lie.
pub(super) struct Draw<'p> {
    pub plan: &'p DrawPlan<'p>,
    /// How far each source is moved, in standard uncertainties: sources, limits, then born ones.
    pub moved: Vec<f64>,
    /// Uncertainties met in this draw that no reading has.
    pub met: RefCell<Vec<SourceId>>,
    /// Derived values, as far as they are worked out.
    pub computed: Vec<Option<PlainValue>>,
}

impl Draw<'_> {
    /// A derived value in this draw.
    pub fn computed(&self, at: usize) -> Option<&PlainValue> {
        self.computed.get(at)?.as_ref()
    }

    /// How far a source is moved.
    pub fn shift(&self, shift: Shift) -> f64 {
        match shift {
            Shift::Known(at) => self.at(at),
            Shift::Met(source) => self.met(source),
        }
    }

    /// How far a source that came about in this draw is moved. It has an identity of its own, made
    /// from the moved readings; the order in which they come about tells which it is.
    fn met(&self, source: SourceId) -> f64 {
        let mut met = self.met.borrow_mut();
        let at = met.iter().position(|other| *other == source).unwrap_or_else(|| {
            met.push(source);
            met.len() - 1
        });
        self.at(self.plan.sources.len() + self.plan.limits.len() + at)
    }

    /// How far any source is moved.
    pub fn shift_of(&self, source: SourceId) -> f64 {
        self.shift(self.plan.shift(source))
    }

    /// How far what stands there among the sources is moved.
    pub fn at(&self, at: usize) -> f64 {
        self.moved.get(at).copied().unwrap_or(0.0)
    }
}

impl PlainValue {
    /// What is no number.
    pub fn other(value: Value) -> PlainValue {
        PlainValue::Other(Box::new(value))
    }

    /// As a value of the language.
    pub fn into_value(self) -> Value {
        match self {
            PlainValue::Number(measure, x) => Value::exact(measure, x),
            PlainValue::Numbers(measure, items) => {
                Value::Series(items.into_iter().map(|x| Value::exact(measure, x)).collect())
            }
            PlainValue::Other(value) => *value,
        }
    }

    /// A value as a draw has it, its uncertainties moved.
    pub fn moved(value: Value, draw: &Draw<'_>) -> PlainValue {
        let at = |amount: &Uncertain| {
            let parts = amount.components().iter();
            amount.value() + parts.map(|(source, part)| part * draw.shift_of(*source)).sum::<f64>()
        };
        match value {
            Value::Amount(measure, amount) => PlainValue::Number(measure, at(&amount)),
            Value::Series(items) => {
                let moved = items.into_iter().map(|item| PlainValue::moved(item, draw));
                let none = || PlainValue::other(Value::Series(Vec::new()));
                PlainValue::series(moved.map(Some)).unwrap_or_else(none)
            }
            other => PlainValue::other(other),
        }
    }

    /// A series, where each of its values could be worked out: plain where all are numbers.
    pub fn series(items: impl Iterator<Item = Option<PlainValue>>) -> Option<PlainValue> {
        let mut items = items.peekable();
        let Some(Some(PlainValue::Number(measure, _))) = items.peek() else {
            let items = items.map(|item| item.map(PlainValue::into_value)).collect::<Option<_>>()?;
            return Some(PlainValue::other(Value::Series(items)));
        };
        let measure = *measure;
        let mut numbers = Vec::with_capacity(items.size_hint().0);
        while let Some(item) = items.next() {
            match item? {
                PlainValue::Number(_, x) => numbers.push(x),
                other => {
                    let before = numbers.into_iter().map(|x| Some(Value::exact(measure, x)));
                    let rest = std::iter::once(Some(other)).chain(items);
                    let all = before.chain(rest.map(|item| item.map(PlainValue::into_value)));
                    return Some(PlainValue::other(Value::Series(all.collect::<Option<_>>()?)));
                }
            }
        }
        Some(PlainValue::Numbers(measure, numbers))
    }
}
