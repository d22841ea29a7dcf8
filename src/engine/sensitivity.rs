//! What a check would say if its sources of uncertainty were other than they are, all estimates kept.

use std::cell::RefCell;
use std::collections::{BTreeMap, HashSet};

use rustc_hash::FxHashMap;

use super::names::NameValues;
use super::run::Run;
use super::uncertainty_source::UncertaintySource;
use crate::lang::{Ancestry, CheckedExpr, Collapse, Expr, GivenCondition, Node, Unknown, Value, Values};
use crate::procedure::{Check, function};
use crate::quantity::{SourceId, Truth, Uncertain, Verdict};
use crate::record::Entry;

/// One check, and what may be asked of it.
pub(super) struct Sensitivity<'r> {
    run: &'r Run,
    check: &'r Check,
    /// Every source of uncertainty that the check's names carry, with how much.
    pub sources: BTreeMap<SourceId, f64>,
}

/// The values of a run as they would be with other gauges or other readings: what was worked out is worked
/// out anew.
struct Hypothetical<'a> {
    names: &'a NameValues,
    factor: &'a dyn Fn(SourceId) -> f64,
    /// Readings in place of those taken, by their step.
    readings: Option<(&'a str, &'a Value)>,
    /// What names stand for, as far as they were looked at.
    known: RefCell<FxHashMap<String, Result<Value, Unknown>>>,
}

impl<'a> Hypothetical<'a> {
    fn new(names: &'a NameValues, factor: &'a dyn Fn(SourceId) -> f64) -> Hypothetical<'a> {
        Hypothetical { names, factor, readings: None, known: RefCell::default() }
    }

    fn computed(&self, name: &str, stored: Value) -> Result<Value, Unknown> {
        // What the formula rests on may have been answered anew since.
        match self.names.formula(name).filter(|formula| formula.value(self.names).as_ref() == Ok(&stored)) {
            Some(formula) => formula.value(self),
            None => Ok(stored.rescaled(self.factor)),
        }
    }
}

impl Values for Hypothetical<'_> {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        if let Some((_, readings)) = self.readings.filter(|(step, _)| *step == name) {
            return Ok(readings.clone());
        }
        if let Some(known) = self.known.borrow().get(name) {
            return known.clone();
        }
        let value = self.names.value(name).and_then(|stored| self.computed(name, stored));
        self.known.borrow_mut().insert(name.to_string(), value.clone());
        value
    }

    fn one(&self, name: &str, how: Collapse) -> Result<Value, Unknown> {
        // The newest of many rounds without the others.
        if how != Collapse::Mean && self.names.has_rounds(name) {
            return self.names.one(name, how).map(|newest| newest.rescaled(self.factor));
        }
        self.value(name)?.collapsed(how)
    }

    fn confidence(&self) -> f64 {
        self.names.confidence()
    }

    fn judge(&self, condition: GivenCondition<'_>) -> Option<Result<Truth, Unknown>> {
        Some(condition.judged(self).map(|judged| judged.truth))
    }
}

impl Ancestry for Hypothetical<'_> {
    fn formula(&self, name: &str) -> Option<&CheckedExpr> {
        self.names.formula(name)
    }
}

impl<'r> Sensitivity<'r> {
    pub(super) fn new(run: &'r Run, check: &'r Check) -> Sensitivity<'r> {
        let mut sources = BTreeMap::new();
        check.expr.names(&mut |name, newest| {
            let names = &run.state.names;
            let value = if newest { names.one(name, Collapse::Last) } else { names.value(name) };
            let Ok(value) = value else { return };
            for amount in value.amounts() {
                for (source, part) in amount.components() {
                    let most: &mut f64 = sources.entry(*source).or_default();
                    *most = most.max(part.abs());
                }
            }
            // The spread of readings comes in only with their mean.
            sources.extend(value.sources_of_mean().into_iter().flatten().map(|source| (source, 0.0)));
        });
        Sensitivity { run, check, sources }
    }

    /// Whether the check would say pass or fail with every source multiplied by its factor.
    pub(super) fn decides(&self, factor: &dyn Fn(SourceId) -> f64) -> bool {
        self.would_decide(&Hypothetical::new(&self.run.state.names, factor))
    }

    /// Whether it would with so many readings of a step that have the mean and the standard deviation of
    /// those taken; what is lost by their number alone is Student's t.
    pub(super) fn decides_by_readings(&self, step: &str, count: u32) -> bool {
        let names = &self.run.state.names;
        let Some(readings) = names.value(step).ok().and_then(|value| more_readings(&value, count)) else {
            return false;
        };
        let readings = Some((step, &readings));
        self.would_decide(&Hypothetical { readings, ..Hypothetical::new(names, &|_| 1.0) })
    }

    /// Whether it would with what was compared grown by a factor, as a loss grows with the time.
    pub(super) fn decides_grown(&self, factor: f64) -> bool {
        let grown = self.check.expr.grown(&self.run.state.names, factor);
        grown.is_some_and(|truth| self.is_decided(truth))
    }

    fn would_decide(&self, values: &Hypothetical<'_>) -> bool {
        self.check.expr.tells(values, self.run.setting.confidence())
    }

    fn is_decided(&self, truth: Truth) -> bool {
        truth.verdict(self.run.setting.confidence()) != Verdict::Unsure
    }

    /// Whether the check rests on how long was waited, so that it compares a rate.
    pub(super) fn rests_on(&self, name: &str) -> bool {
        self.reached(&mut |expr| matches!(&expr.node, Node::Name(found) if **found == *name))
    }

    /// The readings of a gauge whose divisions are among the sources.
    pub(super) fn readings(&self) -> Vec<&'r Entry> {
        let run = self.run;
        let mut readings: Vec<&Entry> = Vec::new();
        for source in self.sources.keys() {
            let found = run.uncertainty_source(*source);
            if let Some(UncertaintySource::Division(_)) = found {
                readings.extend(run.reading(*source));
            } else if let Some(UncertaintySource::Rounding(step)) = found {
                readings.extend(run.repeated(&step));
            }
        }
        readings.sort_by_key(|entry| entry.n);
        readings.dedup_by_key(|entry| entry.n);
        readings
    }

    /// The steps of which repeated readings are among the sources, by their spread, with how many were taken.
    pub(super) fn repeated(&self) -> Vec<(String, u32)> {
        let spread = |source: &SourceId| match self.run.uncertainty_source(*source) {
            Some(UncertaintySource::Spread(step)) => Some(step),
            _ => None,
        };
        // In rounds of a loop one mean stands for each.
        let counted = |step: String| {
            let count = self.run.state.names.value(&step).ok()?.amounts().len();
            (count == self.run.repeated(&step).count()).then_some((step, count as u32))
        };
        let mut steps: Vec<_> = self.sources.keys().filter_map(spread).filter_map(counted).collect();
        steps.dedup();
        steps
    }

    /// Whether a function that takes whole series (the spread of readings, the highest of them)
    /// stands between the check and a step: more readings then do not make it surer.
    pub(super) fn uses_series_of(&self, step: &str) -> bool {
        self.reached(&mut |expr| takes_series(expr, step))
    }

    /// Whether something stands in the check, or in what the values in it were worked out by.
    fn reached(&self, looked_for: &mut dyn FnMut(&Expr) -> bool) -> bool {
        let procedure = &self.run.setting.procedure;
        let mut seen: HashSet<&str> = HashSet::new();
        let mut open = vec![self.check.expr.expr()];
        while let Some(expr) = open.pop() {
            if looked_for(expr) {
                return true;
            }
            expr.each_operand(&mut |operand| open.push(operand));
            if let Node::Name(name) = &expr.node
                && seen.insert(name)
                && let Some(compute) = procedure.step(name).and_then(|step| step.course().computes())
            {
                open.push(compute.expr.expr());
            }
        }
        false
    }
}

/// So many readings in place of those taken, with their mean and standard deviation, each of them rounded
/// by itself.
fn more_readings(readings: &Value, count: u32) -> Option<Value> {
    let Value::Series(items) = readings else { return None };
    let Value::Amount(measure, first) = items.first()? else { return None };
    let values: Vec<f64> = readings.amounts().iter().map(Uncertain::value).collect();
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let deviation = (values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
    let count = f64::from(count);
    // Evenly spread; their standard deviation would be that of the numbers from 1 to the count.
    let of_even = (count * (count + 1.0) / 12.0).sqrt();
    let reading = |at: u64| {
        let off = (at as f64 + 0.5 - 0.5 * count) * deviation / of_even;
        let own = |source: SourceId| {
            if let SourceId::Reading(_) = source { SourceId::Reading(u64::MAX - at) } else { source }
        };
        let parts = first.components().iter();
        let amount =
            parts.fold(Uncertain::exact(mean + off), |sum, (source, u)| sum.with_component(own(*source), *u));
        Value::Amount(*measure, amount)
    };
    Some(Value::Series((0..count as u64).map(reading).collect()))
}

/// Whether an expression is a call that takes all answers of a step at once.
fn takes_series(expr: &Expr, step: &str) -> bool {
    let Node::Call(name, _, given) = &expr.node else { return false };
    // More readings do make a mean surer.
    let whole =
        name != "mean" && function(name).is_none_or(|f| f.parameters.iter().any(|p| p.sort.is_series()));
    whole && given.iter().any(|x| matches!(&x.node, Node::Name(name) if name == step))
}
