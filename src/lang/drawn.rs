//! The interval a value lies in, where twice its standard uncertainty does not tell it.
//!
//! Twice the standard uncertainty either way is a 95 % interval for a straight formula of several
//! sources (JCGM 100:2008, G.2). It is not where the formula bends or has a kink within the doubt,
//! nor where one limit of error makes up nearly all of the doubt. Trial draws tell in both cases
//! (JCGM 101:2008, 7.7: the interval leaves as many draws below it as above).

use super::check::Checked;
use super::linear::MANY;
use super::trial::{Plan, Random, Trial, rests_on_doubts};
use super::{Ancestry, Value};
use crate::quantity::{Measure, Uncertain};

/// The coverage probability of the limits shown with values.
const COVERED: f64 = 0.95;
/// How far an end may lie from what first order foretells, in standard uncertainties, before the
/// doubt counts as lopsided.
const BENT: f64 = 0.2;
/// How far an end foretold may lie within twice the standard uncertainty before that is told.
const NARROWER: f64 = 0.25;
/// Draws in which the value cannot be worked out that are worth a word, as a share.
const UNTOLD: f64 = 0.01;

/// What draws say of a value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawn {
    /// What the value measures.
    pub measure: Measure,
    /// The interval that holds 95 % of the draws; SI.
    pub interval: [f64; 2],
    /// The share of draws in which the value could not be worked out.
    pub untold: f64,
    /// Why the interval is told.
    pub why: Why,
}

/// Why an interval is told beside a value and its limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// The formula is not straight over the width of the doubt.
    Lopsided,
    /// One limit, as likely anywhere within it, makes up nearly all of the doubt.
    OneLimit,
}

impl Checked {
    /// The interval its value lies in, by draws; `None` where twice the standard uncertainty
    /// tells it well enough, and for what is no number.
    pub fn drawn(&self, values: &dyn Ancestry) -> Option<Drawn> {
        let Ok(Value::Amount(measure, amount)) = self.value(values) else { return None };
        let mut plan = Plan::new(self, values);
        plan.meet(&self.part);
        if plan.is_sure() || rests_on_doubts(&self.part, values, &amount) {
            return None;
        }
        let mut random = Random::new();
        let (mut found, mut foretold) = (Vec::with_capacity(MANY), Vec::with_capacity(MANY));
        for _ in 0..MANY {
            let trial = Trial::draw(&plan, &mut random);
            foretold.push(trial.straight(&amount));
            if let Ok(Value::Amount(_, value)) = trial.value(&self.part) {
                found.push(value.value());
            }
        }
        let untold = 1.0 - found.len() as f64 / MANY as f64;
        let (interval, straight) = (middle(found)?, middle(foretold)?);
        let why = told_for(&amount, interval, straight, untold)?;
        Some(Drawn { measure, interval, untold, why })
    }
}

/// Why the interval found is worth telling beside the value and the one foretold.
fn told_for(amount: &Uncertain, interval: [f64; 2], straight: [f64; 2], untold: f64) -> Option<Why> {
    let u = amount.standard_uncertainty();
    let apart = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).abs().max((a[1] - b[1]).abs());
    // At the foot of a kink nothing is left of u; the width of the interval stands in.
    let scale = u.max((interval[1] - interval[0]) / 4.0);
    let twice = [amount.value() - 2.0 * u, amount.value() + 2.0 * u];
    let rounding = 1e-9 * amount.value().abs();
    if untold >= UNTOLD || apart(interval, straight) > BENT * scale + rounding {
        Some(Why::Lopsided)
    } else if apart(straight, twice) > NARROWER * u + rounding {
        Some(Why::OneLimit)
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
