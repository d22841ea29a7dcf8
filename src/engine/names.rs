//! The values answered so far.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use crate::lang::{Ancestry, CheckedExpr, Collapse, GivenCondition, Unknown, Value, Values};
use crate::quantity::Truth;

/// What stands under a name.
#[derive(Clone, Debug)]
enum NameState {
    One(Value),
    Series(Vec<Value>, Collapse),
    /// A series whose last round gave nothing, and why.
    Broken(Vec<Value>, Collapse, Unknown),
    Absent(Unknown),
}

/// Names and their values.
#[derive(Clone, Debug, Default)]
pub(super) struct NameValues {
    slots: FxHashMap<Arc<str>, NameState>,
    /// The probability from which checks say pass or fail.
    confidence: f64,
    /// What computed values were worked out by.
    formulas: FxHashMap<Arc<str>, Arc<CheckedExpr>>,
}

impl NameValues {
    /// No name has a value yet.
    pub(super) fn new(confidence: f64) -> NameValues {
        NameValues { confidence, ..NameValues::default() }
    }

    /// Sets the value of a name; a series is one of repeated readings.
    pub(super) fn set(&mut self, name: &str, value: Value) {
        let slot = match value {
            Value::Series(items) => NameState::Series(items, Collapse::Mean),
            one @ (Value::Amount(..) | Value::Truth(_) | Value::Text(_)) => NameState::One(one),
        };
        self.slots.insert(Arc::from(name), slot);
    }

    /// Adds a round's value to the series of a name.
    pub(super) fn push(&mut self, name: &str, value: Value) {
        match self.slots.get_mut(name) {
            Some(NameState::Series(items, _)) => items.push(value),
            Some(NameState::Broken(items, how, _)) => {
                items.push(value);
                let whole = NameState::Series(std::mem::take(items), *how);
                self.slots.insert(Arc::from(name), whole);
            }
            Some(NameState::One(_) | NameState::Absent(_)) | None => {
                self.slots.insert(Arc::from(name), NameState::Series(vec![value], Collapse::Last));
            }
        }
    }

    /// Notes why a name was not answered; earlier rounds keep theirs.
    pub(super) fn absent(&mut self, name: &str, reason: String) {
        match self.slots.get(name) {
            Some(NameState::Series(..) | NameState::Broken(..)) => {}
            Some(NameState::One(_) | NameState::Absent(_)) | None => {
                let unknown = Unknown::unanswered(reason);
                self.slots.insert(Arc::from(name), NameState::Absent(unknown));
            }
        }
    }

    /// Notes why a name cannot be told now though nothing was left unanswered; an earlier round's value must not pass for it.
    pub(super) fn unknown(&mut self, name: &str, reason: String) {
        let unknown = Unknown::because(reason);
        let slot = match self.slots.remove(name) {
            Some(NameState::Series(items, how) | NameState::Broken(items, how, _)) => {
                NameState::Broken(items, how, unknown)
            }
            Some(NameState::One(_) | NameState::Absent(_)) | None => NameState::Absent(unknown),
        };
        self.slots.insert(Arc::from(name), slot);
    }

    /// Notes what the value of a name is worked out by.
    pub(super) fn computed_by(&mut self, name: &str, formula: &Arc<CheckedExpr>) {
        self.formulas.insert(Arc::from(name), formula.clone());
    }

    /// Forgets a name, before a loop is walked anew.
    pub(super) fn clear(&mut self, name: &str) {
        self.slots.remove(name);
    }

    /// Whether a name has a value of each round.
    pub(super) fn has_rounds(&self, name: &str) -> bool {
        matches!(self.slots.get(name), Some(NameState::Series(_, Collapse::Last)))
    }

    /// The one value that stands for a name after a tank's round.
    pub(super) fn collapsed(&self, name: &str) -> Option<Value> {
        match self.slots.get(name)? {
            NameState::One(value) => Some(value.clone()),
            NameState::Series(items, how) => Value::Series(items.clone()).collapsed(*how).ok(),
            NameState::Absent(_) | NameState::Broken(..) => None,
        }
    }
}

impl Values for NameValues {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        match self.slots.get(name) {
            Some(NameState::One(value)) => Ok(value.clone()),
            Some(NameState::Series(items, _)) => Ok(Value::Series(items.clone())),
            Some(NameState::Absent(unknown) | NameState::Broken(_, _, unknown)) => Err(unknown.clone()),
            None => Err(Unknown::unanswered(format!("`{name}` was not answered."))),
        }
    }

    fn one(&self, name: &str, how: Collapse) -> Result<Value, Unknown> {
        match (self.slots.get(name), how) {
            // The newest of many rounds without the others.
            (Some(NameState::Series(items, _)), Collapse::Last | Collapse::No) => {
                items.last().cloned().ok_or_else(|| Unknown::because("No answer was given."))
            }
            _ => self.value(name)?.collapsed(how),
        }
    }

    fn confidence(&self) -> f64 {
        self.confidence
    }

    fn judge(&self, condition: GivenCondition<'_>) -> Option<Result<Truth, Unknown>> {
        Some(condition.judged(self).map(|judged| judged.truth))
    }
}

impl Ancestry for NameValues {
    fn formula(&self, name: &str) -> Option<&CheckedExpr> {
        self.formulas.get(name).map(Arc::as_ref)
    }
}
