//! Several tanks of a line taken as one, where a diagnosis stands outside of any tank's own: the water they
//! give together, against all their air.
//!
//! As long as no precharge lies above cut-in, tanks give together what one would of their whole volume, with
//! the mean of their precharges weighed by volume: Boyle's law is linear in both.

use super::evidence::Gatherer;
use super::evidence_items::is_of_stage;
use super::observations::Observation;
use crate::physics::diagnosis::Item;
use crate::quantity::{GALLON, PSI, Uncertain};

impl Gatherer<'_> {
    /// Readings of a tank, of those that count at this stage; one that stands outside of any is the first's.
    fn of_tank(&self, at: usize, observable: &str) -> Vec<&Observation> {
        let all = self.run.state.observations.iter();
        all.filter(|seen| seen.observable == observable && seen.tank.unwrap_or(0) == at).collect()
    }

    /// The volume by the plate of each tank, gal; nothing where one is not known.
    fn volumes(&self) -> Option<Vec<f64>> {
        let tanks = &self.run.setting.system.tanks;
        let by_file = |at: usize| {
            let value = self.run.setting.system.value("tank.volume", at)?;
            value.amount().map(Uncertain::value)
        };
        let of = |at: usize| {
            self.of_tank(at, "plate_volume").last().and_then(|seen| seen.si()).or_else(|| by_file(at))
        };
        (0..tanks.len()).map(|at| of(at).map(|si| si / GALLON)).collect()
    }

    /// The volume of all tanks together, gal.
    pub(super) fn whole_volume(&self) -> Option<f64> {
        Some(self.volumes()?.iter().sum())
    }

    /// The mean precharge of all tanks by their volumes, psi; nothing where one was not read. What each tank's was
    /// is no matter of the line: nothing that rests on it alone is vouched for by the mean.
    pub(super) fn mean_precharge(&self) -> Option<f64> {
        let volumes = self.volumes()?;
        let counts =
            |seen: &&&Observation| seen.is_read() && is_of_stage(Item::Precharge, seen.tells, self.phase);
        let mut sum = 0.0;
        for (at, volume) in volumes.iter().enumerate() {
            let read = self.of_tank(at, "precharge");
            let read: Vec<f64> = read.iter().filter(counts).filter_map(|seen| seen.si()).collect();
            if read.is_empty() {
                return None;
            }
            sum += volume * read.iter().sum::<f64>() / read.len() as f64 / PSI;
        }
        Some(sum / volumes.iter().sum::<f64>())
    }

    /// How many tanks are taken as one.
    pub(super) fn tanks_as_one(&self) -> usize {
        if self.run.is_whole_line() { self.run.setting.system.tanks.len() } else { 1 }
    }
}
