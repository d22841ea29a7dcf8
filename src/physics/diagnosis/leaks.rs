//! Leaks: what lets the pressure fall while nobody draws water. They stand apart from all else.

use super::cause::CauseId::{self, *};
use super::cause::Group;
use super::causes::count;
use super::density::{normal, of_mark};
use super::evidence::{Evidence, HoldLoss};
use super::items::Item;
use super::words::TABLES;

/// How many causes there are.
pub(super) const LEAKS: usize = count(Group::Leaks);
/// What each loses in [`HOLD_MINUTES`], psi; whether it shows with the house shut; log-normal about it by [`SCATTER`].
/// Judgements.
const LOST: [(CauseId, Option<f64>, bool); LEAKS] = [
    (Tight, None, true),
    (House, Some(5.0), false),
    (CheckValve, Some(5.0), true),
    (Weeping, Some(2.5), true),
];
const SCATTER: f64 = 0.95;
/// Minutes that the judgements are of: a usual hold.
const HOLD_MINUTES: f64 = 15.0;
/// What a tight system loses, psi, as its water cools; and how unevenly a leak leaks, as a share. Judgements.
const COOLED: f64 = 0.3;
const UNEVEN: f64 = 0.15;
/// How well a loss is read, psi, beside this share of what the mark adds to one reading. Judgements.
const LOSS_READ: f64 = 0.4;
const OF_MARK: f64 = 0.7;
/// At how many places the logarithm of a leak is looked at, its middle among them, and how far apart. No judgement.
const NODES: i32 = 21;
const NODE: f64 = 0.2;
/// From which loss on, psi, the pressure fell.
const FELL_FROM: f64 = 1.0;
/// The answer of [`Item::Look`] that is a drip: it is seen where it is.
const DRIPS: usize = 0;
/// The density of a loss that nothing explains, 1/psi: somebody drew water, a misread gauge.
const STRAY: f64 = 0.002;

/// The probability of each leak, and how much the best explains what was read.
pub(super) struct LeakOdds {
    pub probabilities: [f64; LEAKS],
    /// The pressure rose, or fell in one way and not in the other, as no leak makes it.
    pub unexplained: Option<Item>,
}

/// A loss that is read, under a leak of about so much in 15 minutes.
fn lost(hold: HoldLoss, mean: f64, u: f64) -> f64 {
    let mean = mean * hold.minutes / HOLD_MINUTES;
    let (mut sum, mut whole) = (0.0, 0.0);
    for node in 0..NODES {
        let z = NODE * f64::from(node - NODES / 2);
        let (leak, weight) = (mean * (z * SCATTER).exp(), (-0.5 * z * z).exp());
        sum += weight * normal(hold.loss, leak + COOLED, u.hypot(UNEVEN * leak));
        whole += weight;
    }
    sum / whole
}

pub(super) fn leaks(evidence: &Evidence) -> LeakOdds {
    let mut weights: [f64; LEAKS] = Group::Leaks.priors();
    let mut unexplained = None;
    let u = LOSS_READ.hypot(OF_MARK * of_mark(evidence.errors.line_mark));
    for (item, hold) in [(Item::HoldShut, evidence.hold_shut), (Item::HoldOpen, evidence.hold_open)] {
        let Some(hold) = hold else { continue };
        let tight = normal(hold.loss, COOLED, u);
        let all =
            LOST.map(|(_, mean, shows_shut)| match mean.filter(|_| shows_shut || item == Item::HoldOpen) {
                Some(mean) => lost(hold, mean, u),
                None => tight,
            });
        if all.iter().all(|density| *density < STRAY) {
            unexplained = Some(item);
        }
        weights.iter_mut().zip(all).for_each(|(weight, density)| *weight *= density + STRAY);
    }
    let fell = fell(evidence);
    for table in TABLES.iter().filter(|table| table.group == Group::Leaks) {
        let counts = |answer: &&usize| table.item != Item::Look || fell || **answer == DRIPS;
        let Some(answer) = evidence.words.get(&table.item).filter(counts) else {
            continue;
        };
        for (weight, cause) in weights.iter_mut().zip(Group::Leaks.causes()) {
            *weight *= table.likelihood(cause.id, *answer);
        }
    }
    let whole: f64 = weights.iter().sum();
    LeakOdds { probabilities: weights.map(|weight| weight / whole), unexplained }
}

/// Whether the pressure fell with the house shut: only then counts what else was seen on the well side.
pub(super) fn fell(evidence: &Evidence) -> bool {
    evidence.hold_shut.is_some_and(|hold| hold.loss > FELL_FROM)
}

/// The probability of a leak.
pub(super) fn of(leaks: &LeakOdds, cause: CauseId) -> f64 {
    leaks.probabilities[cause.place()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn losses_stand_in_the_order_of_their_causes() {
        let ids: Vec<CauseId> = Group::Leaks.causes().iter().map(|cause| cause.id).collect();
        assert_eq!(LOST.map(|(cause, _, _)| cause).to_vec(), ids);
    }
}
