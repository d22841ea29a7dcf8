//! What the draws of one expression have in common.
//!
//! A value holds what each source contributes to first order. For a reading that is all there is
//! to know; for a value that was worked out it is not, so a draw works such values out anew from
//! the readings, by the expression they came from.

use std::cell::RefCell;
use std::sync::Arc;

use super::check::CheckedExpr;
use super::linearity::is_linear;
use super::part::TypedNode;
use super::{Ancestry, Collapse, GivenCondition, Unknown, Value, Values};
use crate::quantity::{Shape, SourceId, Truth, Uncertain};

/// How a draw finds out how far a source is moved.
#[derive(Clone, Copy, Debug)]
pub(super) enum Shift {
    /// By its place among what is moved.
    Known(usize),
    /// By the order in which it comes about.
    Met(SourceId),
}

/// A name that is looked at.
struct UseOfName {
    name: Arc<str>,
    /// Only at the newest of its series: what it was in earlier rounds costs nothing.
    newest: bool,
    stored: Value,
}

/// What the draws of one expression have in common.
#[derive(Clone)]
pub(super) struct DrawPlan<'a> {
    pub values: &'a dyn Ancestry,
    /// Values to be worked out anew, each after those it rests on.
    pub derived: Vec<(Arc<str>, &'a CheckedExpr)>,
    /// What the readings are uncertain by.
    pub sources: Vec<SourceId>,
    /// The `+-` in the expression and in what the derived values came from.
    pub limits: Vec<SourceId>,
    /// Uncertainties that come about on the way, such as the spread of a mean, as they come about.
    pub born: Vec<SourceId>,
}

impl<'a> DrawPlan<'a> {
    /// The plan for an expression.
    pub(super) fn new(part: &TypedNode, values: &'a dyn Ancestry) -> DrawPlan<'a> {
        let (derived, sources, limits, born) = Default::default();
        let mut plan = DrawPlan { values, derived, sources, limits, born };
        let mut seen = Vec::new();
        plan.visit(part, &mut seen);
        for (name, formula) in plan.derived.clone() {
            plan.meet(&formula.part);
            let stored =
                seen.iter().filter(|use_of| use_of.name == name).flat_map(|use_of| use_of.stored.amounts());
            stored.for_each(|amount| plan.also(&amount));
        }
        plan
    }

    fn visit(&mut self, part: &TypedNode, seen: &mut Vec<UseOfName>) {
        let mut names = Vec::new();
        part.names(&mut |name, newest| names.push((name.clone(), newest)));
        for (name, newest) in names {
            if seen.iter().any(|use_of| use_of.name == name && (newest || !use_of.newest)) {
                continue;
            }
            let stored = match newest {
                true => self.values.one(&name, Collapse::Last),
                false => self.values.value(&name),
            };
            let Ok(stored) = stored else { continue };
            seen.push(UseOfName { name: name.clone(), newest, stored: stored.clone() });
            match self.values.formula(&name).filter(|formula| still_gives(formula, self.values, &stored)) {
                Some(formula) => {
                    self.visit(&formula.part, seen);
                    if self.derived.iter().all(|(known, _)| *known != name) {
                        self.derived.push((name, formula));
                    }
                }
                None => {
                    let mut parts = stored.amounts();
                    let mean = stored.collapsed(Collapse::Mean).ok();
                    parts.extend(mean.as_ref().and_then(Value::amount).cloned());
                    parts.iter().for_each(|amount| self.stored(amount));
                }
            }
        }
    }

    /// Adds the uncertainties that come about while a part is worked out, as a draw will meet them. A value
    /// at a kink need not hold them any more.
    pub(super) fn meet(&mut self, part: &TypedNode) {
        let uncertain: RefCell<Vec<Uncertain>> = RefCell::default();
        let newly = |value: Value| {
            uncertain.borrow_mut().extend(value.amounts());
            value
        };
        // What is not known has met its uncertainties on the way there.
        drop(super::eval::value(
            part,
            &SeenValues { values: self.values, each: |value| value, newly: &newly },
        ));
        uncertain.take().iter().for_each(|amount| self.also(amount));
    }

    /// Adds the sources of a stored value in an order that does not hang on the numbers of entries, for a
    /// run gone on with has others: an identity that was made is placed by how much it moves the value.
    fn stored(&mut self, amount: &Uncertain) {
        let size = |source: SourceId, part: f64| match source {
            SourceId::Reading(_) | SourceId::Gauge(_) => 0.0,
            SourceId::Rounding(_) | SourceId::Spread(_) | SourceId::Few(..) | SourceId::Limit(_) => {
                part.abs()
            }
        };
        let mut parts: Vec<_> = amount.components().to_vec();
        parts.sort_by(|(a, x), (b, y)| size(*a, *x).total_cmp(&size(*b, *y)));
        for (source, _) in parts {
            if !self.sources.contains(&source) {
                self.sources.push(source);
            }
        }
    }

    /// Adds the uncertainties of a value that no reading has.
    fn also(&mut self, amount: &Uncertain) {
        for (source, _) in amount.components() {
            let is_limit = matches!(source, SourceId::Limit(_));
            let known = if is_limit { &mut self.limits } else { &mut self.born };
            if !self.sources.contains(source) && !known.contains(source) {
                known.push(*source);
            }
        }
    }

    /// Where a reading's source or a `+-` stands among what a draw moves.
    pub(super) fn place_of(&self, source: SourceId) -> Option<usize> {
        let limit = || Some(self.sources.len() + self.limits.iter().position(|other| *other == source)?);
        self.sources.iter().position(|other| *other == source).or_else(limit)
    }

    /// Where any source stands, one that comes about on the way included.
    pub(super) fn any_place_of(&self, source: SourceId) -> Option<usize> {
        let before = self.sources.len() + self.limits.len();
        let born = || Some(before + self.born.iter().position(|other| *other == source)?);
        self.place_of(source).or_else(born)
    }

    /// How the errors of all that a draw moves are distributed, in their order.
    pub(super) fn shapes(&self) -> Vec<Shape> {
        let all = self.sources.iter().chain(&self.limits).chain(&self.born);
        all.map(|source| source.shape()).collect()
    }

    /// How a draw finds out how far a source is moved.
    pub(super) fn shift(&self, source: SourceId) -> Shift {
        self.place_of(source).map_or(Shift::Met(source), Shift::Known)
    }

    /// Whether nothing is uncertain.
    pub(super) fn is_exact(&self) -> bool {
        self.sources.is_empty() && self.limits.is_empty() && self.born.is_empty()
    }

    /// Whether first order tells the parts' difference exactly: nothing is uncertain, or they are
    /// straight functions of what is.
    pub(super) fn is_linear(&self, a: &TypedNode, b: &TypedNode) -> bool {
        let linear = |part| is_linear(part, self.values, &self.derived);
        self.is_exact() || linear(a) && linear(b)
    }
}

/// Whether a formula still yields the value kept: what it rests on may have been answered anew.
fn still_gives(formula: &CheckedExpr, values: &dyn Ancestry, stored: &Value) -> bool {
    let newest = match stored {
        Value::Series(items) => items.last(),
        one => Some(one),
    };
    match (newest, formula.value(values)) {
        (Some(Value::Amount(_, kept)), Ok(Value::Amount(_, anew))) => {
            is_same(kept, &anew) && !rests_on_uncertainties(&formula.part, values, kept)
        }
        _ => false,
    }
}

/// Whether a part tells of uncertainties themselves, such as `uncertainty_of`: without them it has
/// another value, and a draw, where nothing is uncertain, cannot work it out.
pub(super) fn rests_on_uncertainties(part: &TypedNode, values: &dyn Values, value: &Uncertain) -> bool {
    match super::eval::value(part, &SeenValues { values, each: exact, newly: &exact }) {
        Ok(Value::Amount(_, plain)) => (plain.value() - value.value()).abs() > 1e-9 * value.value().abs(),
        _ => true,
    }
}

/// A value without uncertainty.
fn exact(value: Value) -> Value {
    value.rescaled(&|_| 0.0)
}

/// The same values, seen otherwise.
struct SeenValues<'a> {
    values: &'a dyn Values,
    /// What is made of each.
    each: fn(Value) -> Value,
    /// What is made of those in which uncertainties have just come about.
    newly: &'a dyn Fn(Value) -> Value,
}

impl Values for SeenValues<'_> {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        self.values.value(name).map(self.each)
    }

    fn one(&self, name: &str, how: Collapse) -> Result<Value, Unknown> {
        self.values.one(name, how).map(self.each)
    }

    fn confidence(&self) -> f64 {
        self.values.confidence()
    }

    fn judge(&self, condition: GivenCondition<'_>) -> Option<Result<Truth, Unknown>> {
        self.values.judge(condition)
    }

    fn newly_uncertain(&self, value: Value) -> Value {
        (self.newly)(value)
    }
}

/// Whether two values are one but for rounding, with all that they are uncertain by.
fn is_same(a: &Uncertain, b: &Uncertain) -> bool {
    let near = |x: f64, y: f64, whole: f64| (x - y).abs() <= 1e-9 * whole.abs();
    let u = a.standard_uncertainty();
    near(a.value(), b.value(), a.value())
        && a.components().len() == b.components().len()
        && a.components().iter().zip(b.components()).all(|(p, q)| p.0 == q.0 && near(p.1, q.1, u))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_the_same_to_a_part_in_1e9_of_it_and_of_its_doubt() {
        let of = |value: f64, parts: &[(u64, f64)]| {
            let exact = Uncertain::exact(value);
            parts.iter().fold(exact, |sum, (source, u)| sum.with_component(SourceId::Reading(*source), *u))
        };
        let (value, u): (f64, f64) = (3.0, 5.0);
        let kept = of(value, &[(1, 3.0), (2, 4.0)]);
        let table = [
            (of(value, &[(1, 3.0), (2, 4.0)]), true),
            (of(value * (1.0 + 0.9e-9), &[(1, 3.0), (2, 4.0)]), true),
            (of(value * (1.0 - 0.9e-9), &[(1, 3.0), (2, 4.0)]), true),
            (of(value * (1.0 + 1.1e-9), &[(1, 3.0), (2, 4.0)]), false),
            (of(value * (1.0 - 1.1e-9), &[(1, 3.0), (2, 4.0)]), false),
            (of(value, &[(1, 3.0 + 0.9e-9 * u), (2, 4.0)]), true),
            (of(value, &[(1, 3.0), (2, 4.0 - 1.1e-9 * u)]), false),
            (of(value, &[(1, 3.0), (2, -4.0)]), false),
            (of(value, &[(1, 3.0), (3, 4.0)]), false),
            (of(value, &[(1, 3.0)]), false),
            (of(value, &[(1, 3.0), (2, 4.0), (3, 1e-9)]), false),
            (of(-value, &[(1, 3.0), (2, 4.0)]), false),
            (of(4.0, &[(1, 3.0), (2, 4.0)]), false),
        ];
        for (anew, same) in table {
            assert_eq!(is_same(&kept, &anew), same, "{anew:?}");
        }
        assert!(is_same(&of(0.0, &[]), &of(0.0, &[])) && !is_same(&of(0.0, &[]), &of(1e-300, &[])));
    }
}
