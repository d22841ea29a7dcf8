//! How long the pump runs, in closed form: the time for a full drawdown scatters by a factor from well to
//! well, and goes with the water the tank takes in.

use super::cause::CauseId::{self, PumpRight, ShortFlow, TooSmall};
use super::cause::Group;
use super::causes::count;
use super::density::normal;
use super::evidence::Evidence;
use super::items::Item;
use super::misread::{Assumed, mixed};

/// How many causes the pump has.
pub(super) const PUMPS: usize = count(Group::Pump);

/// Mean and spread of the logarithm of a time in seconds.
type LogLaw = [f64; 2];

/// Seconds for a full drawdown under each cause of the pump, and how far they scatter as a logarithm. Judgements.
const FULL: [(CauseId, f64, f64); PUMPS] =
    [(PumpRight, 100.0, 0.30), (ShortFlow, 420.0, 0.40), (TooSmall, 35.0, 0.25)];
/// How any run time scatters, were anything possible: seconds, and as a logarithm. Judgement.
const BROAD: [f64; 2] = [70.0, 1.3];
/// How well a run is timed: as a share of it, and at its two ends, s. Judgements.
const TIMED: [f64; 2] = [0.03, 0.8];
/// The shortest run that is told apart, s.
const SHORTEST_RUN: f64 = 1.0;
/// What a part between tank and switch does to a run: shorter, with more scatter. Judgement.
const APART_LAW: RunLaw = RunLaw::Moved { by: -0.9, more: 0.55 };

/// How long the pump runs under a cause of the tank.
#[derive(Clone, Copy)]
pub(super) enum RunLaw {
    /// As its water says.
    ByWater,
    /// By so much longer as a logarithm, with so much more scatter.
    Moved { by: f64, more: f64 },
    /// So long whatever the pump and the water, with that scatter as a logarithm: it takes next to nothing.
    Only { seconds: f64, spread: f64 },
}

impl RunLaw {
    fn of(self, [mean, u]: LogLaw) -> LogLaw {
        match self {
            RunLaw::ByWater => [mean, u],
            RunLaw::Moved { by, more } => [mean + by, u.hypot(more)],
            RunLaw::Only { seconds, spread } => [seconds.ln(), spread],
        }
    }
}

/// A run time that was read, held against a tank.
pub(super) struct RunTime {
    /// Its logarithm.
    ln: f64,
    broad: f64,
    /// Mean and spread of the logarithm for a full drawdown: near the switch, and apart from it.
    laws: [[LogLaw; PUMPS]; 2],
    goes_with_water: bool,
}

impl RunTime {
    pub(super) fn of(evidence: &Evidence) -> Option<RunTime> {
        let read = evidence.run_time?.max(SHORTEST_RUN);
        let known = TIMED[0].hypot(TIMED[1] / read);
        let near = FULL.map(|(_, seconds, u)| [seconds.ln(), u.hypot(known)]);
        let apart = near.map(|law| APART_LAW.of(law));
        let broad = normal(read.ln(), BROAD[0].ln(), BROAD[1]);
        Some(RunTime { ln: read.ln(), broad, laws: [near, apart], goes_with_water: true })
    }

    /// Density of it were anything possible.
    pub(super) fn broad(&self) -> f64 {
        self.broad
    }

    /// The same under what a cause of the tank says of it.
    pub(super) fn with(&self, law: RunLaw) -> RunTime {
        let laws = self.laws.map(|pumps| pumps.map(|pump| law.of(pump)));
        RunTime { laws, goes_with_water: !matches!(law, RunLaw::Only { .. }), ..*self }
    }

    /// Density under each cause of the pump, near the switch and apart from it, where the tank takes in so
    /// much of a full drawdown.
    pub(super) fn densities<const N: usize>(&self, full: f64) -> [[Assumed<N>; PUMPS]; 2] {
        let more = if self.goes_with_water { full.ln() } else { 0.0 };
        self.laws.map(|laws| {
            laws.map(|[mean, u]| mixed(Item::RunTime, normal(self.ln, mean + more, u), self.broad))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_stand_in_the_order_of_their_causes() {
        let ids: Vec<CauseId> = Group::Pump.causes().iter().map(|cause| cause.id).collect();
        assert_eq!(FULL.map(|(cause, _, _)| cause).to_vec(), ids);
    }
}
