//! What a run would work out from readings that might be taken: the tables of a sheet come from the
//! procedure's own formulas, with the uncertainties of the same gauges, so that sheet and run agree.

use super::known::Known;
use crate::lang::Value;
use crate::procedure::{Course, Fact, LoopKind, Observable, Observed, Procedure, Step};
use crate::quantity::{Measure, Uncertain};
use crate::report::steps::{PlacedStep, Steps};
use crate::system::System;

/// Readings that might be taken, SI.
#[derive(Clone, Copy, Debug)]
pub(super) struct PossibleReadings {
    /// The lowest cut-in.
    pub cut_in: f64,
    /// Of several starts the highest is so much above the lowest.
    pub starts_apart: f64,
    pub cut_out: f64,
    pub precharge: f64,
    pub temperature: f64,
}

/// A run on paper: what is known before the work, and what reads.
pub(super) struct Rehearsal<'p> {
    steps: Steps<'p>,
    facts: Vec<(&'p Fact, Option<Value>)>,
    system: &'p System,
}

impl<'p> Rehearsal<'p> {
    /// Of the work at one tank.
    pub(super) fn of(
        procedure: &'p Procedure,
        known: &Known,
        (system, tank): (&'p System, usize),
    ) -> Rehearsal<'p> {
        let value = |fact: &'p Fact| {
            let known_value = known.of_tank(&fact.id, tank).cloned();
            (fact, known_value.or_else(|| fact.usual_value(known)))
        };
        let facts = procedure.facts.iter().map(value).collect();
        Rehearsal { steps: Steps::of(Some(procedure)), facts, system }
    }

    /// What the last step that calls a function comes to; `None` where none does, or where it cannot be told.
    pub(super) fn result(&self, function: &str, supposed: &PossibleReadings) -> Option<f64> {
        let (result_step, _) = self.steps.computed().filter(|(_, expr)| expr.calls(function)).last()?;
        let known = self.computed(supposed);
        known.of_tank(&result_step.id, 0).and_then(Value::amount).map(Uncertain::value)
    }

    /// The values that stand at the end of the work.
    fn computed(&self, supposed: &PossibleReadings) -> Known {
        let mut known = Known::default();
        for (fact, known_value) in &self.facts {
            let switch = fact.observes.and_then(|it| supposed.exactly(it));
            if let Some(value) = switch.or_else(|| known_value.clone()) {
                known.tell(&fact.id, value);
            }
        }
        for placed in &self.steps.placed {
            let step = placed.step;
            let value = match step.course() {
                Course::Ask(_) => step.observes.and_then(|it| self.read(placed, it, supposed)),
                Course::Compute(compute) => {
                    let is_left_out = step.when.as_ref().is_some_and(|it| known.holds(it) == Some(false));
                    if is_left_out { None } else { compute.expr.value(&known).ok() }
                }
                Course::State(_)
                | Course::Check(_)
                | Course::Conclude(_)
                | Course::Diagnose(_)
                | Course::Repeat(_)
                | Course::Each(_)
                | Course::Stop(_) => None,
            };
            if let Some(value) = value {
                known.tell(&step.id, value);
            }
        }
        known
    }

    /// What a step would read: of several readings the last is the highest.
    fn read(
        &self,
        placed: &PlacedStep<'_>,
        observable: &Observable,
        supposed: &PossibleReadings,
    ) -> Option<Value> {
        let Observed::Number(measure) = observable.observed else { return None };
        let gives = placed.step.course().gives().filter(|gives| gives.kind.measure() == Some(measure))?;
        let si = supposed.of(observable)?;
        let mark = self.system.gauge(observable.gauge?).map_or(0.0, |gauge| gauge.division);
        let apart = if observable.name == "cut_in" { supposed.starts_apart } else { mark };
        let one = |take: u32| {
            let more = if take > 1 && take == gives.times { apart } else { 0.0 };
            Some(Value::Amount(measure, self.uncertain(placed.step, (si + more, take))?))
        };
        match gives.times {
            1 if !placed.around.contains(&LoopKind::Repeat) => one(1),
            times => (1..=times).map(one).collect::<Option<Vec<Value>>>().map(Value::Series),
        }
    }

    /// A reading with what its gauge may be off, as in a run.
    fn uncertain(&self, step: &Step, (si, take): (f64, u32)) -> Option<Uncertain> {
        let gauge = self.system.gauge(step.observes?.gauge?)?;
        let entry = self.steps.placed.iter().position(|placed| placed.step.id == step.id)?;
        Some(gauge.read(si, 100 * entry as u64 + u64::from(take)))
    }
}

impl PossibleReadings {
    fn of(&self, observable: &Observable) -> Option<f64> {
        match observable.name {
            "cut_in" => Some(self.cut_in),
            "cut_out" => Some(self.cut_out),
            "precharge" => Some(self.precharge),
            "tank_temperature" => Some(self.temperature),
            _ => None,
        }
    }

    /// What a fact says of the switch, where no step reads it.
    fn exactly(&self, observable: &Observable) -> Option<Value> {
        let of_switch = ["cut_in", "cut_out"].contains(&observable.name);
        of_switch.then(|| self.of(observable)).flatten().map(|si| Value::exact(Measure::Pressure, si))
    }
}
