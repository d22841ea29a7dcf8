//! The values answered so far.

use std::collections::HashMap;
use std::sync::Arc;

use crate::lang::{Ancestry, Checked, Collapse, Unknown, Value, Values};

/// What stands under a name.
#[derive(Clone, Debug)]
enum Slot {
    One(Value),
    Series(Vec<Value>, Collapse),
    /// A series whose last round gave nothing, and why.
    Broken(Vec<Value>, Collapse, String),
    Absent(String),
}

/// Names and their values.
#[derive(Clone, Debug)]
pub(super) struct Names {
    slots: HashMap<Arc<str>, Slot>,
    /// The probability from which checks say pass or fail.
    confidence: f64,
    /// What computed values were worked out by.
    formulas: HashMap<Arc<str>, Arc<Checked>>,
}

impl Names {
    /// No name has a value yet.
    pub fn new(confidence: f64) -> Names {
        Names { slots: HashMap::new(), confidence, formulas: HashMap::new() }
    }

    /// Sets the value of a name; a series is one of repeated readings.
    pub fn set(&mut self, name: &str, value: Value) {
        let slot = match value {
            Value::Series(items) => Slot::Series(items, Collapse::Mean),
            one @ (Value::Amount(..) | Value::Truth(_) | Value::Text(_)) => Slot::One(one),
        };
        self.slots.insert(Arc::from(name), slot);
    }

    /// Adds a round's value to the series of a name.
    pub fn push(&mut self, name: &str, value: Value) {
        match self.slots.get_mut(name) {
            Some(Slot::Series(items, _)) => items.push(value),
            Some(Slot::Broken(items, how, _)) => {
                items.push(value);
                let whole = Slot::Series(std::mem::take(items), *how);
                self.slots.insert(Arc::from(name), whole);
            }
            Some(Slot::One(_) | Slot::Absent(_)) | None => {
                self.slots.insert(Arc::from(name), Slot::Series(vec![value], Collapse::Last));
            }
        }
    }

    /// Notes why a name has no value; earlier rounds keep theirs.
    pub fn absent(&mut self, name: &str, reason: String) {
        match self.slots.get(name) {
            Some(Slot::Series(..) | Slot::Broken(..)) => {}
            Some(Slot::One(_) | Slot::Absent(_)) | None => {
                self.slots.insert(Arc::from(name), Slot::Absent(reason));
            }
        }
    }

    /// Notes why a name cannot be told now; an earlier round's value must not pass for it.
    pub fn unknown(&mut self, name: &str, reason: String) {
        let slot = match self.slots.remove(name) {
            Some(Slot::Series(items, how) | Slot::Broken(items, how, _)) => Slot::Broken(items, how, reason),
            Some(Slot::One(_) | Slot::Absent(_)) | None => Slot::Absent(reason),
        };
        self.slots.insert(Arc::from(name), slot);
    }

    /// Notes what the value of a name is worked out by.
    pub fn worked_out_by(&mut self, name: &str, formula: &Arc<Checked>) {
        self.formulas.insert(Arc::from(name), formula.clone());
    }

    /// Forgets a name, before a loop is walked anew.
    pub fn clear(&mut self, name: &str) {
        self.slots.remove(name);
    }

    /// The one value that stands for a name after a tank's round.
    pub fn collapsed(&self, name: &str) -> Option<Value> {
        match self.slots.get(name)? {
            Slot::One(value) => Some(value.clone()),
            Slot::Series(items, how) => Value::Series(items.clone()).collapsed(*how).ok(),
            Slot::Absent(_) | Slot::Broken(..) => None,
        }
    }
}

impl Values for Names {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        match self.slots.get(name) {
            Some(Slot::One(value)) => Ok(value.clone()),
            Some(Slot::Series(items, _)) => Ok(Value::Series(items.clone())),
            Some(Slot::Absent(reason) | Slot::Broken(_, _, reason)) => Err(Unknown::because(reason.clone())),
            None => Err(Unknown::because(format!("`{name}` was not answered."))),
        }
    }

    fn confidence(&self) -> f64 {
        self.confidence
    }
}

impl Ancestry for Names {
    fn formula(&self, name: &str) -> Option<&Checked> {
        self.formulas.get(name).map(Arc::as_ref)
    }
}
