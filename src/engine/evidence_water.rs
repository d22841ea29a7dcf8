//! Water caught, run times and weights, as evidence.

use super::evidence::Gatherer;
use super::observations::Observation;
use crate::physics::diagnosis::Item;
use crate::quantity::{PSI, unit};

/// Air must rest so long before the bucket, s; water caught sooner is left aside. Judgement.
const RESTED: f64 = 240.0;
/// The drawdown is reckoned up to cut-out from a pressure that fell while the tank rested, at most so many
/// times; what it was lowered by is known as much less well. Judgement.
const MOST_COOLED: f64 = 5.0;

impl Gatherer<'_> {
    /// Water caught once the air had rested, gal, and by how much it was reckoned up.
    pub(super) fn drawdown(&mut self) -> Option<(f64, f64)> {
        let (at, _) = self.seen().rev().find(|(_, seen)| self.counts("drawdown", Item::Drawdown, seen))?;
        let rest = self.run.state.observations[..at].last().filter(|seen| seen.observable == "rest_time");
        if rest.and_then(Observation::si).is_some_and(|rest| rest < RESTED) {
            return None;
        }
        let caught = self.newest("drawdown", Item::Drawdown)?;
        let factor = self.cooling_factor(at).unwrap_or(1.0);
        Some((caught * factor, factor))
    }

    /// By how much more water would have come from cut-out than came from the pressure after the rest.
    fn cooling_factor(&self, at: usize) -> Option<f64> {
        let observed = &self.run.state.observations[..at];
        let newest = |name: &str| observed.iter().rev().find(|seen| seen.observable == name)?.si();
        let air = self.site(&[]).atmosphere * PSI;
        let from = |seen: &&Observation| matches!(seen.observable, "rested_pressure" | "line_pressure");
        let inverse = |pressure: f64| 1.0 / (pressure + air);
        let (cut_in, cut_out) = (inverse(newest("cut_in")?), inverse(newest("cut_out")?));
        let rested = inverse(observed.iter().rev().find(from)?.si()?);
        let factor = (cut_in - cut_out) / (cut_in - rested);
        (rested > cut_out && factor.is_finite() && factor > 0.0 && factor < MOST_COOLED).then_some(factor)
    }

    /// How long the pump runs, where a plain switch runs it.
    pub(super) fn run_time(&mut self) -> Option<f64> {
        if !self.run.is_plain_switch() {
            return None;
        }
        self.newest("run_time", Item::RunTime)
    }

    /// The scale's weight and the plate's.
    pub(super) fn weight(&mut self) -> Option<[f64; 2]> {
        let weighed = |observable: &str| {
            let (_, seen) = self.seen().rev().find(|(_, seen)| seen.observable == observable)?;
            Some((seen.step.clone(), seen.si()? / unit("lb")?.size))
        };
        let ((step, scale), (_, plate)) = (weighed("weight")?, weighed("plate_weight")?);
        self.steps.push((Item::Weighed, step));
        Some([scale, plate])
    }
}
