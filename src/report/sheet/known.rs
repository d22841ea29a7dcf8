//! What is known before the work begins, and what that settles.

use std::cell::Cell;
use std::collections::{HashMap, HashSet};

use crate::lang::{CheckedExpr, Unknown, Value, Values};
use crate::procedure::Fact;

/// The values that are known before the work, and the names that have none for sure.
#[derive(Debug, Default)]
pub(super) struct Known {
    pub values: HashMap<String, Value>,
    pub left_out: HashSet<String>,
    /// Whether a name was asked for that only the work will tell.
    open: Cell<bool>,
}

impl Values for Known {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        if let Some(value) = self.values.get(name) {
            return Ok(value.clone());
        }
        self.open.set(self.open.get() || !self.left_out.contains(name));
        Err(Unknown::because("Only the work will tell."))
    }
}

impl Known {
    /// What stands for a fact that is not asked for, when that is settled.
    pub fn determined_usual(&self, fact: &Fact) -> Option<Value> {
        self.open.set(false);
        let value = fact.usual_value(self);
        value.filter(|_| !self.open.get())
    }

    /// The value of an expression that rests on nothing the work must tell.
    pub fn determined(&self, expr: &CheckedExpr) -> Option<Value> {
        self.open.set(false);
        let value = expr.value(self).ok();
        value.filter(|_| !self.open.get())
    }

    /// Whether it is settled that an expression has no value.
    pub fn lacks(&self, expr: &CheckedExpr) -> bool {
        self.open.set(false);
        expr.value(self).is_err() && !self.open.get()
    }

    /// Whether a condition holds, when that is settled.
    pub fn holds(&self, condition: &CheckedExpr) -> Option<bool> {
        self.open.set(false);
        let truth = condition.truth(self);
        if self.open.get() { None } else { Some(truth.is_ok_and(|truth| truth.best)) }
    }
}
