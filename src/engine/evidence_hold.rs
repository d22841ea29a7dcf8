//! Pressures before and after a rest, as evidence of leaks.

use super::evidence::Gatherer;
use super::observations::Observation;
use crate::physics::diagnosis::{HoldLoss, Item};
use crate::physics::{Held, corrected_loss};
use crate::quantity::PSI;

/// A hold that was cut shorter was not made: it rules out nothing, min.
const HELD: f64 = 14.0;
/// A shorter one still shows a loss of more than so much, psi, from so many minutes on. Judgements.
const FELL: (f64, f64) = (1.0, 5.0);
/// From 50 psi to 49 is a hair more than 1 psi as pressures are kept, from 48 to 47 a hair less; psi.
const PRESSURE_ROUNDING: f64 = 1e-6;

impl Gatherer<'_> {
    /// Pressures read before and after a rest: with the house shut, and open.
    pub(super) fn holds(&mut self) -> [Option<HoldLoss>; 2] {
        let mut holds = [None, None];
        let all = &self.run.state.observations;
        let is_warmth = |seen: &&Observation| seen.observable == "tank_temperature";
        let mut found = Vec::new();
        for (at, rest) in all.iter().enumerate().filter(|(_, seen)| seen.observable == "rest_time") {
            let (before, after) = (&all[..at], &all[at + 1..]);
            let start = before.iter().rev().find(|seen| !is_warmth(seen));
            let end = after.iter().find(|seen| !is_warmth(seen));
            let both = start.zip(end).filter(|(start, end)| {
                start.observable == "line_pressure" && end.observable == "line_pressure"
            });
            let (Some((start, end)), Some(seconds)) = (both, rest.si()) else { continue };
            let minutes = seconds / 60.0;
            let (Some(from), Some(to)) = (start.si(), end.si()) else { continue };
            let warmth = [before.last().filter(is_warmth), after.get(1).filter(is_warmth)];
            let loss = self.loss([from, to], warmth.map(|seen| seen.and_then(Observation::si)));
            let fell = loss / PSI > FELL.0 + PRESSURE_ROUNDING && minutes >= FELL.1;
            if minutes < HELD && !fell {
                continue;
            }
            let shut = end.during("house_shut") && self.run.newest_word("house_valve") != Some("no");
            let item = if shut { Item::HoldShut } else { Item::HoldOpen };
            holds[usize::from(!shut)] = Some(HoldLoss { loss: loss / PSI, minutes });
            found.extend([(item, start.step.clone()), (item, end.step.clone())]);
        }
        self.steps.extend(found);
        holds
    }

    /// What was lost beside what a change of temperature explains.
    fn loss(&self, [from, to]: [f64; 2], warmth: [Option<f64>; 2]) -> f64 {
        let [Some(then), Some(now)] = warmth else { return from - to };
        let held = |pressure, temperature| Held { pressure, temperature };
        let elevation = self.fact("elevation").unwrap_or(0.0);
        corrected_loss(held(from, then), held(to, now), elevation).unwrap_or(from - to)
    }
}
