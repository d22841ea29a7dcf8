//! How the precharge went from visit to visit, by the records of earlier ones: for one temperature, from how
//! it was left to how it was found.

use super::observations::{Observation, Origin};
use super::run::Run;
use super::setting::EarlierVisit;
use crate::clock::Moment;
use crate::physics::diagnosis::{EarlierPrecharge, Stretch};
use crate::physics::precharge_at;
use crate::quantity::{DAY, PSI, YEAR};
use crate::record::{EntryKind, Phase};

/// How well a loss is known that was read with one gauge at two visits, psi: repeat, marks, temperature.
/// Judgement.
const KNOWN: f64 = 1.1;

impl Run {
    /// What was lost from visit to visit, up to this one, the oldest first.
    pub(super) fn history(&self, now: Moment) -> Vec<Stretch> {
        let visits = self.visits(now);
        visits.windows(2).filter_map(|pair| self.stretch(&pair[0], &pair[1])).collect()
    }

    /// Whether it was asked for as of an earlier visit, and left out.
    pub(super) fn left_out_before(&self, observable: &str) -> bool {
        self.answers.iter().map(|answer| &answer.entry).any(|entry| {
            entry.kind == EntryKind::Skipped
                && entry.phase == Some(Phase::Before)
                && entry.observes.as_deref() == Some(observable)
        })
    }

    /// How the precharge was left at the newest earlier visit, for the temperature of this one.
    pub(super) fn newest_visit(&self, now: Moment) -> Option<EarlierPrecharge> {
        let visits = self.visits(now);
        let [.., before, this] = visits.as_slice() else { return None };
        let precharge = self.as_warm_as(before, this)? / PSI;
        Some(EarlierPrecharge { precharge, years: days(before, this) * DAY / YEAR, same_gauge: false })
    }

    /// Earlier visits and this one, where the precharge is known.
    fn visits(&self, now: Moment) -> Vec<EarlierVisit> {
        let tank = self.setting.tank_id(self.tank());
        let past = self.setting.past.visits(tank.as_deref());
        let mut visits: Vec<EarlierVisit> =
            past.iter().copied().filter(|visit| visit.at.unix_seconds() < now.unix_seconds()).collect();
        let of = |name: &'static str| {
            let tank = self.state.frames.tank();
            let is = move |seen: &&Observation| {
                seen.observable == name
                    && seen.origin == Origin::Step
                    && seen.tells == Some(Phase::Found)
                    && (seen.tank.is_none() || seen.tank == tank)
            };
            self.state.observations.iter().filter(is).filter_map(Observation::si).collect::<Vec<f64>>()
        };
        let read = of("precharge");
        if !read.is_empty() {
            let found = Some(read.iter().sum::<f64>() / read.len() as f64);
            let temperature = of("tank_temperature").last().copied();
            visits.push(EarlierVisit { at: now, found, left: None, temperature, new_tank: false });
        }
        visits
    }

    /// How a visit left the precharge, for the temperature of the next.
    fn as_warm_as(&self, before: &EarlierVisit, next: &EarlierVisit) -> Option<f64> {
        let left = before.left.or(before.found)?;
        let both = before.temperature.zip(next.temperature);
        Some(both.and_then(|(then, now)| precharge_at(left, then, now, 0.0).ok()).unwrap_or(left))
    }

    fn stretch(&self, before: &EarlierVisit, next: &EarlierVisit) -> Option<Stretch> {
        let lost = (self.as_warm_as(before, next)? - next.found?) / PSI;
        Some(Stretch { lost, u: KNOWN, days: days(before, next) })
    }
}

fn days(before: &EarlierVisit, next: &EarlierVisit) -> f64 {
    (next.at.unix_seconds() - before.at.unix_seconds()) as f64 / DAY
}
