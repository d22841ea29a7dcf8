//! Starts of the pump, as evidence.

use super::evidence::Gatherer;
use super::observations::Observation;
use crate::physics::diagnosis::Item;
use crate::quantity::PSI;
use crate::record::Phase;

impl Gatherer<'_> {
    /// Pressures at which the pump was seen to start; what somebody only said of it counts where nobody saw.
    pub(super) fn starts(&mut self) -> Vec<f64> {
        let said = self.all("cut_in", Item::Starts);
        let watched =
            |seen: &Observation| self.counts("cut_in", Item::Starts, seen) && self.run.was_watched(seen);
        let seen: Vec<f64> = self
            .seen()
            .filter(|(_, seen)| watched(seen))
            .filter_map(|(_, it)| Some(it.si()? / PSI))
            .collect();
        if seen.is_empty() { said } else { seen }
    }

    /// Starts that were watched as things were found, where that is past: how far they scatter still tells of
    /// the switch while nobody turned its nuts. Of a needle that drops, eyes make it scatter.
    pub(super) fn starts_before(&self) -> Vec<f64> {
        let found = |seen: &Observation| seen.tells == Some(Phase::Found);
        let needle = self.seen().rev().find(|(_, seen)| seen.observable == "needle_fall" && found(seen));
        let dropped = needle.is_some_and(|(_, seen)| seen.word() == Some("dropped"));
        if self.phase != Phase::Left || dropped || self.run.was_turned() {
            return Vec::new();
        }
        let watched =
            |seen: &Observation| seen.observable == "cut_in" && found(seen) && self.run.was_watched(seen);
        self.seen().filter(|(_, seen)| watched(seen)).filter_map(|(_, seen)| Some(seen.si()? / PSI)).collect()
    }
}
