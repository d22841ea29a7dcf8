//! The interval a value lies in, where twice its standard uncertainty does not tell it.
//!
//! Twice the standard uncertainty either way is a 95 % interval for a linear formula of several
//! sources (JCGM 100:2008, G.2). It is not where the formula bends or has a kink within the uncertainty,
//! nor where one limit of error makes up nearly all of the uncertainty. Monte Carlo draws tell in both cases
//! (JCGM 101:2008, 7.7: the interval leaves as many draws below it as above).

use super::check::CheckedExpr;
use super::check_probability::DRAWS_THAT_JUDGE;
use super::compile::Compiler;
use super::draw_plan::{DrawPlan, rests_on_uncertainties};
use super::monte_carlo::Draws;
use super::program::Machine;
use super::{Ancestry, Value};
use crate::quantity::{Measure, Uncertain};

/// The coverage probability of the limits shown with values.
const COVERED: f64 = 0.95;
/// How far an end may lie from what first order foretells, in standard uncertainties, before the
/// uncertainty counts as asymmetric.
const ASYMMETRIC_FROM: f64 = 0.2;
/// How far an end foretold may lie within twice the standard uncertainty before that is told.
const NARROWER: f64 = 0.25;
/// Draws in which the value cannot be worked out that are worth a word, as a share.
const UNDEFINED_SHARE: f64 = 0.01;

/// What draws say of a value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoverageInterval {
    /// What the value measures.
    pub measure: Measure,
    /// The interval that holds 95 % of the draws; SI.
    pub interval: [f64; 2],
    /// The share of draws in which the value could not be worked out.
    pub undefined_share: f64,
    /// Why the interval is told.
    pub why: IntervalReason,
}

/// Why an interval is told beside a value and its limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum IntervalReason {
    /// The formula is not linear over the width of the uncertainty.
    Asymmetric,
    /// One limit, as likely anywhere within it, makes up nearly all of the uncertainty.
    OneLimit,
}

impl CheckedExpr {
    /// The interval its value lies in, by draws; `None` where twice the standard uncertainty
    /// tells it well enough, and for what is no number.
    pub fn coverage_interval(&self, values: &dyn Ancestry) -> Option<CoverageInterval> {
        let Ok(Value::Amount(measure, amount)) = self.value(values) else { return None };
        let mut plan = DrawPlan::new(&self.part, values);
        plan.meet(&self.part);
        if plan.is_exact() || rests_on_uncertainties(&self.part, values, &amount) {
            return None;
        }
        let mut compiler = Compiler::new(&plan);
        let (value, to_first_order) = (compiler.number(&self.part), compiler.first_order(&amount));
        let program = compiler.finish();
        let mut machine = Machine::new(&program, &plan);
        let (mut found, mut foretold) =
            (Vec::with_capacity(DRAWS_THAT_JUDGE), Vec::with_capacity(DRAWS_THAT_JUDGE));
        for draw in Draws::of(plan.shapes(), DRAWS_THAT_JUDGE).rows(DRAWS_THAT_JUDGE) {
            machine.draw(draw);
            foretold.push(machine.number(to_first_order));
            found.push(machine.number(value));
        }
        found.retain(|value| !value.is_nan());
        let undefined_share = 1.0 - found.len() as f64 / DRAWS_THAT_JUDGE as f64;
        let (interval, first_order) = (middle(found)?, middle(foretold)?);
        let why = reason_to_show(&amount, interval, first_order, undefined_share)?;
        Some(CoverageInterval { measure, interval, undefined_share, why })
    }
}

/// Why the interval found is worth telling beside the value and the one foretold.
fn reason_to_show(
    amount: &Uncertain,
    interval: [f64; 2],
    first_order: [f64; 2],
    undefined_share: f64,
) -> Option<IntervalReason> {
    let u = amount.standard_uncertainty();
    let apart = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).abs().max((a[1] - b[1]).abs());
    // At the foot of a kink nothing is left of u; the width of the interval stands in.
    let scale = u.max((interval[1] - interval[0]) / 4.0);
    let reach = amount.expanded_uncertainty();
    let twice = [amount.value() - reach, amount.value() + reach];
    let rounding = 1e-9 * amount.value().abs();
    if undefined_share >= UNDEFINED_SHARE || apart(interval, first_order) > ASYMMETRIC_FROM * scale + rounding
    {
        Some(IntervalReason::Asymmetric)
    } else if (first_order[0] - twice[0]).max(twice[1] - first_order[1]) > NARROWER * u + rounding {
        Some(IntervalReason::OneLimit)
    } else {
        None
    }
}

/// The interval around the middle 95 % of numbers; `None` of none.
fn middle(mut numbers: Vec<f64>) -> Option<[f64; 2]> {
    numbers.sort_by(f64::total_cmp);
    let last = numbers.len().checked_sub(1)? as f64;
    let below = (1.0 - COVERED) / 2.0;
    let at = |share: f64| numbers.get((share * last).round() as usize).copied();
    Some([at(below)?, at(1.0 - below)?])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::SourceId;

    /// A value, its standard uncertainty, the interval found, the one foretold, the share untold.
    type Case = (f64, f64, [f64; 2], [f64; 2], f64);

    #[test]
    fn an_interval_is_told_from_where_it_is_worth_it() {
        let table: [(Case, Option<IntervalReason>); 15] = [
            ((10.0, 1.0, [8.0, 12.0], [8.0, 12.0], 0.0), None),
            // A fifth of u apart, at either end.
            ((10.0, 1.0, [8.0, 12.19], [8.0, 12.0], 0.0), None),
            ((10.0, 1.0, [8.0, 12.22], [8.0, 12.0], 0.0), Some(IntervalReason::Asymmetric)),
            ((10.0, 1.0, [8.19, 12.0], [8.0, 12.0], 0.0), None),
            ((10.0, 1.0, [8.21, 12.0], [8.0, 12.0], 0.0), Some(IntervalReason::Asymmetric)),
            // A quarter of u from twice u.
            ((10.0, 1.0, [8.24, 11.76], [8.24, 11.76], 0.0), None),
            ((10.0, 1.0, [8.26, 12.0], [8.26, 12.0], 0.0), Some(IntervalReason::OneLimit)),
            ((10.0, 1.0, [8.0, 11.74], [8.0, 11.74], 0.0), Some(IntervalReason::OneLimit)),
            // A fifth of a quarter of the width, where u is nothing or less than that.
            ((0.0, 0.0, [0.0, 8.0], [0.0, 7.61], 0.0), None),
            ((0.0, 0.0, [0.0, 8.0], [0.0, 7.59], 0.0), Some(IntervalReason::Asymmetric)),
            ((4.0, 1.0, [0.0, 8.0], [0.0, 7.61], 0.0), None),
            // One draw in a hundred.
            ((10.0, 1.0, [8.0, 12.0], [8.0, 12.0], 0.0099), None),
            ((10.0, 1.0, [8.0, 12.0], [8.0, 12.0], 0.01), Some(IntervalReason::Asymmetric)),
            // Rounding, a part in 1e9 of the value, is none.
            ((1e9, 0.0, [1e9, 1e9 + 0.9], [1e9; 2], 0.0), None),
            ((-1e9, 0.0, [-1e9, 1.1 - 1e9], [-1e9; 2], 0.0), Some(IntervalReason::Asymmetric)),
        ];
        for ((value, u, found, foretold, undefined_share), expected) in table {
            let amount = Uncertain::exact(value).with_component(SourceId::Reading(1), u);
            assert_eq!(
                reason_to_show(&amount, found, foretold, undefined_share),
                expected,
                "{value} {u} {found:?} {foretold:?}"
            );
        }
    }

    #[test]
    fn the_middle_leaves_as_many_below_as_above() {
        let numbers = |most: u32| (0..=most).rev().map(f64::from).collect::<Vec<_>>();
        assert_eq!(middle(numbers(1_000)), Some([25.0, 975.0]));
        assert_eq!(middle(numbers(1)), Some([0.0, 1.0]));
        assert_eq!(middle(vec![5.0]), Some([5.0, 5.0]));
        assert_eq!(middle(Vec::new()), None);
    }
}
