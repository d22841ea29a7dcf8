//! Where values come from, and what a verdict hangs on that nobody confirmed.
//!
//! A usual answer that was taken unconfirmed is an assumption. A check may still say pass or fail
//! when it would say the same for whatever the assumed thing can be, from one end of its range to the
//! other. Where it would not, or where no range is known, it can't tell, and says what to look up.

use std::sync::Arc;

use rustc_hash::FxHashSet;

use super::run::Run;
use crate::lang::{Ancestry, CheckedExpr, Expr, Unknown, Value, Values};
use crate::procedure::{Check, Fact};
use crate::quantity::{Kind, Truth, Verdict};
use crate::record::Provenance;

/// The values of a run, but one fact other than it was assumed to be.
struct Supposed<'r> {
    run: &'r Run,
    fact: &'r str,
    value: Value,
}

impl Values for Supposed<'_> {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        if name == self.fact {
            return Ok(self.value.clone());
        }
        let known = self.run.state.names.value(name);
        match self.run.state.names.formula(name) {
            Some(formula) if !matches!(known, Ok(Value::Series(_))) && self.rests_on_it(formula) => {
                formula.value(self)
            }
            Some(_) | None => known,
        }
    }

    fn confidence(&self) -> f64 {
        self.run.state.names.confidence()
    }
}

impl Supposed<'_> {
    fn rests_on_it(&self, formula: &CheckedExpr) -> bool {
        self.run.behind(formula.expr()).iter().any(|name| **name == *self.fact)
    }
}

impl Run {
    /// Every name that an expression rests on, those behind computed values too.
    pub(super) fn behind(&self, expr: &Expr) -> FxHashSet<Arc<str>> {
        let mut found: FxHashSet<Arc<str>> = FxHashSet::default();
        let mut open: Vec<Arc<str>> = Vec::new();
        expr.names(&mut |name, _| open.push(Arc::from(name)));
        while let Some(name) = open.pop() {
            if let Some(formula) = self.state.names.formula(&name)
                && !found.contains(&name)
            {
                formula.expr().names(&mut |name, _| open.push(Arc::from(name)));
            }
            found.insert(name);
        }
        found
    }

    /// Where the value of an expression comes from: the least trusted of what went in.
    pub(super) fn provenance_of(&self, expr: &Expr) -> Option<Provenance> {
        self.behind(expr).iter().filter_map(|name| self.state.provenance.get(name)).max().copied()
    }

    /// The first unconfirmed fact that a verdict hangs on, in words.
    pub(super) fn hangs_on(&self, check: &Check, verdict: Verdict) -> Option<String> {
        let behind = self.behind(check.expr.expr());
        let procedure = &self.setting.procedure;
        let assumed = |fact: &&Fact| {
            behind.contains(&fact.id) && self.state.provenance.get(&fact.id) == Some(&Provenance::Assumed)
        };
        let fact =
            procedure.facts.iter().filter(assumed).find(|fact| self.would_tell(fact, check, verdict))?;
        let value = self.state.names.value(&fact.id).ok()?.shown(self.setting.units);
        let label = procedure.label(&fact.id);
        Some(format!("It hangs on {label}, taken to be {value} and never confirmed: look it up."))
    }

    /// Whether a verdict would be another if a fact were other than assumed.
    fn would_tell(&self, fact: &Fact, check: &Check, verdict: Verdict) -> bool {
        let Some(others) = self.others(fact) else { return true };
        let confidence = self.setting.confidence();
        others.into_iter().any(|value| {
            let supposed = Supposed { run: self, fact: &fact.id, value };
            check.expr.truth(&supposed).map_or(Verdict::Unsure, |truth| truth.verdict(confidence)) != verdict
        })
    }

    /// The ends of what a fact can be, or every word; `None` when there are none.
    fn others(&self, fact: &Fact) -> Option<Vec<Value>> {
        let names = &self.state.names;
        match &fact.kind {
            Kind::Measure(_) => {
                let limits = fact.between.as_ref()?;
                [&limits.low, &limits.high].into_iter().map(|end| end.value(names).ok()).collect()
            }
            Kind::YesNo => Some([true, false].map(|yes| Value::Truth(Truth::certain(yes))).to_vec()),
            Kind::OneOf(words) => Some(words.iter().map(|word| Value::text(word)).collect()),
            Kind::Text => None,
        }
    }
}
