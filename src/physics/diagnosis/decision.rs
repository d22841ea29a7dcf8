//! The working answer: what a careful owner would do now, by least expected cost.
//!
//! Beside the verdict and never in place of it: to accept is no pass. It is taken over what the
//! evidence at hand can show; what it cannot show is for the tests that are still to be made.

use super::cause::CauseId::{self, *};

/// What to do for now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Working {
    /// Leave it as it is until the next yearly look.
    Accept,
    /// Leave it, and look again in a month, or make the next test.
    LookAgain,
    /// Set the precharge now, and look again in a month.
    SetAgain,
    /// See to the tank: the next test first, then the remedy.
    Act,
}

impl Working {
    /// Each, in the order of [`COSTS`].
    pub const ALL: [Working; 4] = [Working::Accept, Working::LookAgain, Working::SetAgain, Working::Act];

    /// In how many days to look again.
    pub fn days(self) -> u16 {
        match self {
            Working::Accept => 365,
            Working::LookAgain | Working::SetAgain | Working::Act => 30,
        }
    }
}

/// What the tank may be, as far as it matters for what to do.
const STATES: [&[CauseId]; 5] = [
    &[TankRight],
    &[Low, High],
    &[AirLeak, Waterlogged],
    &[Torn, Stuck, Trapped],
    &[Blocked, Shut, Hidden, Plate],
];

/// Minutes of the owner's time that each answer costs, by what the tank is.
///
/// In order, precharge off, losing air, bladder failed, something else. Judgements; what follows from a
/// decision is to be weighed (JCGM 106:2012, 9, from memory).
pub const COSTS: [[f64; 5]; 4] = [
    [0.0, 260.0, 300.0, 400.0, 150.0],
    [15.0, 90.0, 110.0, 150.0, 100.0],
    [25.0, 25.0, 60.0, 150.0, 110.0],
    [120.0, 100.0, 70.0, 20.0, 20.0],
];

/// Minutes more where the tank must be drained first. Judgement.
pub(super) const DRAINING: f64 = 40.0;

/// The answer that costs least, where `shown` is what the evidence can show of the tank.
pub(super) fn working(marginals: &[f64], shown: &dyn Fn(CauseId) -> bool, drained: bool) -> Working {
    let counts = |cause: &&CauseId| **cause == TankRight || shown(**cause);
    let states = STATES.map(|causes| causes.iter().filter(counts).map(|it| marginals[*it as usize]).sum());
    let cost = |answer: Working| -> f64 {
        let more = if answer == Working::SetAgain && !drained { DRAINING } else { 0.0 };
        COSTS[answer as usize].iter().zip(states).map(|(cost, p): (&f64, f64)| (cost + more) * p).sum()
    };
    Working::ALL.into_iter().min_by(|a, b| cost(*a).total_cmp(&cost(*b))).unwrap_or(Working::LookAgain)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::diagnosis::causes::CAUSES;

    #[test]
    fn the_answer_follows_what_the_tank_most_likely_is() {
        let table = [
            (vec![(TankRight, 0.97), (Low, 0.03)], true, Working::Accept),
            (vec![(TankRight, 0.75), (Low, 0.25)], true, Working::SetAgain),
            (vec![(TankRight, 0.75), (Low, 0.25)], false, Working::LookAgain),
            (vec![(Low, 0.9), (AirLeak, 0.1)], true, Working::SetAgain),
            (vec![(Torn, 0.9), (Low, 0.1)], true, Working::Act),
        ];
        for (likely, drained, expected) in table {
            let mut marginals = vec![0.0; CAUSES.len()];
            likely.iter().for_each(|(cause, p)| marginals[*cause as usize] = *p);
            assert_eq!(working(&marginals, &|_| true, drained), expected, "{likely:?}");
        }
    }
}
