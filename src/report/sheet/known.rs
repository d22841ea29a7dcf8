//! What is known before the work begins, and what that settles.

use std::cell::Cell;
use std::collections::{HashMap, HashSet};

use super::tables::Basis;
use crate::lang::{CheckedExpr, Unknown, Value, Values};
use crate::procedure::{Fact, Procedure, Usual};
use crate::quantity::{Uncertain, Units};
use crate::report::steps::{PlacedStep, Steps};
use crate::system::System;

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

    /// Whether a condition holds, when that is settled.
    pub fn holds(&self, condition: &CheckedExpr) -> Option<bool> {
        self.open.set(false);
        let truth = condition.truth(self);
        if self.open.get() { None } else { Some(truth.is_ok_and(|truth| truth.best)) }
    }
}

/// What the tables are made for; `None` when the cut-in or cut-out is not known.
pub(super) fn basis(
    procedure: &Procedure,
    known: &Known,
    (system, tank): (&System, usize),
    units: Units,
) -> Option<Basis> {
    let wanted =
        |placed: &PlacedStep<'_>| placed.step.observes.is_some_and(|it| it.name == "pressure_wanted");
    let told = |fact: &Fact| known.values.get(fact.id.as_ref()).and_then(Value::amount).map(Uncertain::value);
    let usual = |fact: &Fact| {
        let Some(Usual::Value(expr)) = &fact.usual else { return None };
        expr.value(known).ok()?.amount().map(Uncertain::value)
    };
    let of_fact = |fact: &Fact| told(fact).or_else(|| usual(fact));
    let value = |path: &str| {
        let own = system.value(path, tank).and_then(Value::amount).map(Uncertain::value);
        let fact = || procedure.facts.iter().find(|fact| fact.from.as_deref() == Some(path));
        own.or_else(|| of_fact(fact()?))
    };
    let is_gap = |fact: &&Fact| fact.observes.is_some_and(|known| known.name == "dead_gap");
    Some(Basis {
        cut_in: value("switch.cut_in")?,
        cut_out: value("switch.cut_out")?,
        gap: procedure.facts.iter().find(is_gap).and_then(of_fact)?,
        coldest: value("coldest")?,
        warmest: value("warmest")?,
        volume: value("tank.volume"),
        elevation: value("elevation").unwrap_or(0.0),
        units,
        changes: Steps::of(Some(procedure)).placed.iter().any(wanted),
    })
}
