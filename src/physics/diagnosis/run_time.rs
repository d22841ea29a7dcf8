//! How long the pump runs, in closed form: the time for a full drawdown scatters by a factor from well to
//! well, and goes with the water the tank takes in.

use super::cause::CauseId::{self, Blocked, Shut};
use super::density::normal;
use super::evidence::Evidence;
use super::items::Item;
use super::misread::{Assumed, mixed};

/// How many causes the pump has.
pub(super) const PUMPS: usize = 3;
/// Seconds for a full drawdown, and how far they scatter as a logarithm: as usual, short of flow, tank
/// too small. Judgements.
const FULL: [[f64; 2]; PUMPS] = [[100.0, 0.30], [420.0, 0.40], [35.0, 0.25]];
/// How any run time scatters, were anything possible.
const BROAD: [f64; 2] = [70.0, 1.3];
/// What a part between tank and switch does to it, and a part-blocked outlet: shorter, with more scatter.
const APART_LAW: [f64; 2] = [-0.9, 0.55];
const BLOCKED_LAW: [f64; 2] = [-0.25, 0.25];
/// A tank whose own valve is shut takes next to nothing.
const SHUT_LAW: [f64; 2] = [3.0, 0.55];

/// A run time that was read, held against a tank.
pub(super) struct RunTime {
    /// Its logarithm.
    ln: f64,
    broad: f64,
    /// Mean and spread of the logarithm for a full drawdown: near the switch, and apart from it.
    laws: [[[f64; 2]; PUMPS]; 2],
    goes_with_water: bool,
}

impl RunTime {
    pub fn of(evidence: &Evidence) -> Option<RunTime> {
        let read = evidence.run_time?.max(1.0);
        let known = 0.03f64.hypot(0.8 / read);
        let near = FULL.map(|[seconds, u]| [seconds.ln(), u.hypot(known)]);
        let apart = near.map(|law| moved(law, APART_LAW));
        let broad = normal(read.ln(), BROAD[0].ln(), BROAD[1]);
        Some(RunTime { ln: read.ln(), broad, laws: [near, apart], goes_with_water: true })
    }

    /// Density of it were anything possible.
    pub fn broad(&self) -> f64 {
        self.broad
    }

    /// The same for a cause of the tank.
    pub fn with(&self, cause: CauseId) -> RunTime {
        let laws = match cause {
            Blocked => self.laws.map(|law| law.map(|law| moved(law, BLOCKED_LAW))),
            Shut => [[[SHUT_LAW[0].ln(), SHUT_LAW[1]]; PUMPS]; 2],
            _ => self.laws,
        };
        RunTime { laws, goes_with_water: cause != Shut, ..*self }
    }

    /// Density under each cause of the pump, near the switch and apart from it, where the tank takes in so
    /// much of a full drawdown.
    pub fn densities<const N: usize>(&self, full: f64) -> [[Assumed<N>; PUMPS]; 2] {
        let more = if self.goes_with_water { full.ln() } else { 0.0 };
        self.laws.map(|laws| {
            laws.map(|[mean, u]| mixed(Item::RunTime, normal(self.ln, mean + more, u), self.broad))
        })
    }
}

fn moved([mean, u]: [f64; 2], [by, more]: [f64; 2]) -> [f64; 2] {
    [mean + by, u.hypot(more)]
}
