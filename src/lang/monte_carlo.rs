//! Monte Carlo draws: an expression evaluated with every source of uncertainty moved at once (JCGM 101:2008,
//! 5.9).
//!
//! A value holds what each source contributes to first order. For a reading that is all there is
//! to know; for a value that was worked out it is not, so a draw works such values out anew from
//! the readings, by the expression they came from.

use std::cell::RefCell;

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;

use super::check::CheckedExpr;
use super::linearity::is_linear;
use super::part::TypedNode;
use super::{Ancestry, Unknown, Value, Values};
use crate::quantity::{Shape, SourceId, Uncertain};

/// What the draws of one expression have in common.
#[derive(Clone)]
pub(super) struct DrawPlan<'a> {
    values: &'a dyn Ancestry,
    /// Values to be worked out anew, each after those it rests on.
    derived: Vec<(String, &'a CheckedExpr)>,
    /// What the readings are doubted by.
    sources: Vec<SourceId>,
    /// The `+-` in the expression and in what the derived values came from.
    limits: Vec<SourceId>,
    /// Uncertainties that come about on the way, such as the spread of a mean, as they come about.
    born: Vec<SourceId>,
}

impl<'a> DrawPlan<'a> {
    /// The plan for an expression.
    pub fn new(expr: &CheckedExpr, values: &'a dyn Ancestry) -> DrawPlan<'a> {
        let (derived, sources, limits, born) = Default::default();
        let mut plan = DrawPlan { values, derived, sources, limits, born };
        plan.visit(expr, &mut Vec::new());
        plan.sources.sort_unstable();
        plan.sources.dedup();
        for (name, formula) in plan.derived.clone() {
            plan.meet(&formula.part);
            let stored = values.value(&name).map(|value| value.amounts()).unwrap_or_default();
            stored.iter().for_each(|amount| plan.also(amount));
        }
        plan
    }

    fn visit(&mut self, expr: &CheckedExpr, seen: &mut Vec<String>) {
        let mut names = Vec::new();
        expr.expr().names(&mut |name, _| names.push(name.to_string()));
        for name in names {
            if seen.contains(&name) {
                continue;
            }
            seen.push(name.clone());
            let Ok(stored) = self.values.value(&name) else { continue };
            match self.values.formula(&name).filter(|formula| still_gives(formula, self.values, &stored)) {
                Some(formula) => {
                    self.visit(formula, seen);
                    self.derived.push((name, formula));
                }
                None => {
                    let parts = stored.amounts();
                    self.sources.extend(parts.iter().flat_map(Uncertain::components).map(|part| part.0));
                }
            }
        }
    }

    /// Adds the uncertainties that come about while a part is worked out, as a draw will meet them. A value
    /// at a kink need not hold them any more.
    pub fn meet(&mut self, part: &TypedNode) {
        let watched = Watched { values: self.values, uncertain: RefCell::default() };
        // What is not known has met its uncertainties on the way there.
        drop(super::eval::value(part, &watched));
        watched.uncertain.take().iter().for_each(|amount| self.also(amount));
    }

    /// Adds the uncertainties of a value that no reading has.
    fn also(&mut self, amount: &Uncertain) {
        for (source, _) in amount.components() {
            let is_limit = matches!(source, SourceId::Limit(_));
            let known = if is_limit { &mut self.limits } else { &mut self.born };
            if self.sources.binary_search(source).is_err() && !known.contains(source) {
                known.push(*source);
            }
        }
    }

    /// Whether nothing is uncertain.
    pub fn is_exact(&self) -> bool {
        self.sources.is_empty() && self.limits.is_empty() && self.born.is_empty()
    }

    /// Whether first order tells the parts' difference exactly: nothing is uncertain, or they are
    /// straight functions of what is.
    pub fn is_linear(&self, a: &TypedNode, b: &TypedNode) -> bool {
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

/// Whether a part tells of doubts themselves, such as `uncertainty_of`: without them it has
/// another value, and a draw, where nothing is uncertain, cannot work it out.
pub(super) fn rests_on_uncertainties(part: &TypedNode, values: &dyn Values, value: &Uncertain) -> bool {
    match super::eval::value(part, &Exact(values)) {
        Ok(Value::Amount(_, plain)) => (plain.value() - value.value()).abs() > 1e-9 * value.value().abs(),
        _ => true,
    }
}

/// The same values, nothing of them uncertain.
struct Exact<'a>(&'a dyn Values);

impl Values for Exact<'_> {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        self.0.value(name).map(|value| value.rescaled(&|_| 0.0))
    }

    fn confidence(&self) -> f64 {
        self.0.confidence()
    }

    fn newly_uncertain(&self, value: Value) -> Value {
        value.rescaled(&|_| 0.0)
    }
}

/// The same values, those noted in which uncertainties come about.
struct Watched<'a> {
    values: &'a dyn Values,
    uncertain: RefCell<Vec<Uncertain>>,
}

impl Values for Watched<'_> {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        self.values.value(name)
    }

    fn confidence(&self) -> f64 {
        self.values.confidence()
    }

    fn newly_uncertain(&self, value: Value) -> Value {
        self.uncertain.borrow_mut().extend(value.amounts());
        value
    }
}

/// Whether two values are one but for rounding, with all that they are doubted by.
fn is_same(a: &Uncertain, b: &Uncertain) -> bool {
    let near = |x: f64, y: f64, whole: f64| (x - y).abs() <= 1e-9 * whole.abs();
    let u = a.standard_uncertainty();
    near(a.value(), b.value(), a.value())
        && a.components().len() == b.components().len()
        && a.components().iter().zip(b.components()).all(|(p, q)| p.0 == q.0 && near(p.1, q.1, u))
}

/// One draw: every source moved to where its error may lie.
pub(super) struct Draw<'a> {
    plan: &'a DrawPlan<'a>,
    /// How far each source is moved, in standard uncertainties: sources, limits, then born ones.
    moved: Vec<f64>,
    /// Uncertainties met in this draw that no reading has.
    met: RefCell<Vec<SourceId>>,
    computed: Vec<(&'a str, Result<Value, Unknown>)>,
}

impl<'a> Draw<'a> {
    /// Makes a draw at random.
    pub fn at_random(plan: &'a DrawPlan<'a>, random: &mut Random) -> Draw<'a> {
        let of_source = plan.sources.iter().map(|source| random.standard(source.shape()));
        let mut moved: Vec<f64> = of_source.collect();
        moved.extend(plan.limits.iter().map(|_| random.standard(Shape::Rectangular)));
        moved.extend(plan.born.iter().map(|_| random.standard(Shape::Normal)));
        let mut draw = Draw { plan, moved, met: RefCell::default(), computed: Vec::new() };
        for (name, formula) in &plan.derived {
            let value = formula.value(&draw).map(|newest| match draw.plan.values.value(name) {
                Ok(Value::Series(mut rounds)) => {
                    rounds.pop();
                    let earlier = rounds.into_iter().map(|round| draw.moved(round));
                    Value::Series(earlier.chain([newest]).collect())
                }
                _ => newest,
            });
            draw.computed.push((name, value));
        }
        draw
    }

    /// Where a first-order value comes to lie in this draw.
    pub fn first_order(&self, amount: &Uncertain) -> f64 {
        let moved = |source: &SourceId| match self.of_known(*source) {
            Some(moved) => moved,
            None => self.of_born(self.plan.born.iter().position(|other| other == source)),
        };
        amount.value() + amount.components().iter().map(|(source, part)| part * moved(source)).sum::<f64>()
    }

    /// The value of a part in this draw, without uncertainty.
    pub fn value(&self, part: &TypedNode) -> Result<Value, Unknown> {
        super::eval::value(part, self)
    }

    /// How far a reading's source or a `+-` is moved.
    fn of_known(&self, source: SourceId) -> Option<f64> {
        let sources = &self.plan.sources;
        let limit = || Some(sources.len() + self.plan.limits.iter().position(|other| *other == source)?);
        let at = sources.binary_search(&source).ok().or_else(limit)?;
        self.moved.get(at).copied()
    }

    fn of_born(&self, at: Option<usize>) -> f64 {
        let before = self.plan.sources.len() + self.plan.limits.len();
        at.and_then(|at| self.moved.get(before + at)).copied().unwrap_or(0.0)
    }

    fn moved(&self, value: Value) -> Value {
        match value {
            Value::Amount(measure, amount) => {
                let parts = amount.components().iter();
                let shift = parts.map(|(source, part)| part * self.shift(*source)).sum::<f64>();
                Value::exact(measure, amount.value() + shift)
            }
            Value::Series(items) => Value::Series(items.into_iter().map(|item| self.moved(item)).collect()),
            other => other,
        }
    }

    /// How far a source is moved. One that came about in this draw has an identity of its own,
    /// made from the moved readings; the order in which they come about tells which it is.
    fn shift(&self, source: SourceId) -> f64 {
        if let Some(moved) = self.of_known(source) {
            return moved;
        }
        let mut met = self.met.borrow_mut();
        let at = met.iter().position(|other| *other == source).unwrap_or_else(|| {
            met.push(source);
            met.len() - 1
        });
        self.of_born(Some(at))
    }
}

impl Values for Draw<'_> {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        match self.computed.iter().find(|(known, _)| *known == name) {
            Some((_, value)) => value.clone(),
            None => self.plan.values.value(name).map(|value| self.moved(value)),
        }
    }

    fn confidence(&self) -> f64 {
        self.plan.values.confidence()
    }

    fn newly_uncertain(&self, value: Value) -> Value {
        self.moved(value)
    }
}

/// Random numbers that are the same in every run and on every machine.
pub(super) struct Random(Pcg64Mcg);

impl Random {
    /// The generator, at its beginning.
    pub fn new() -> Random {
        Random(Pcg64Mcg::seed_from_u64(0x7461_6e6b))
    }

    /// From 0 up to 1.
    fn uniform(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A number of mean 0 and standard deviation 1.
    fn standard(&mut self, shape: Shape) -> f64 {
        match shape {
            Shape::Rectangular => 3f64.sqrt() * (2.0 * self.uniform() - 1.0),
            // Box and Muller (JCGM 101:2008, C.4); 1 - u is never zero.
            Shape::Normal => {
                let radius = (-2.0 * (1.0 - self.uniform()).ln()).sqrt();
                radius * (std::f64::consts::TAU * self.uniform()).cos()
            }
        }
    }
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

    /// Moments and ends of the two distributions; four standard deviations of a mean of 10,000 are 0.04.
    #[test]
    fn standard_numbers_have_mean_0_and_standard_deviation_1() {
        for (shape, fourth) in [(Shape::Normal, 3.0), (Shape::Rectangular, 1.8)] {
            let mut random = Random::new();
            let numbers: Vec<f64> = (0..10_000).map(|_| random.standard(shape)).collect();
            let mean = |power: i32| numbers.iter().map(|x| x.powi(power)).sum::<f64>() / 10_000.0;
            assert!(mean(1).abs() < 0.04 && (mean(2) - 1.0).abs() < 0.06, "{} {}", mean(1), mean(2));
            assert!(mean(3).abs() < 0.2 && (mean(4) - fourth).abs() < 0.4, "{} {}", mean(3), mean(4));
            assert_eq!(numbers.iter().any(|x| x.abs() > 3f64.sqrt()), shape == Shape::Normal);
        }
    }
}
