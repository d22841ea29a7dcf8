//! Leaks: what lets the pressure fall while nobody draws water. They stand apart from all else.

use super::cause::{CauseId, Group};
use super::density::normal;
use super::evidence::{Evidence, HoldLoss};
use super::items::Item;
use super::words::TABLES;

/// How many causes there are.
pub(super) const LEAKS: usize = 4;
/// Psi lost in 15 minutes: house, check valve, drip; log-normal about them by 0.8. Judgements.
const LOST: [f64; 3] = [5.0, 5.0, 2.5];
const SCATTER: f64 = 0.95;
/// The answer of [`Item::Look`] that is a drip: it is seen where it is.
const DRIPS: usize = 0;
/// How likely a loss is that nothing explains: somebody drew water, a misread gauge.
const STRAY: f64 = 0.002;

/// The probability of each leak, and how much the best explains what was read.
pub(super) struct LeakOdds {
    pub probabilities: [f64; LEAKS],
    /// The pressure rose, or fell in one way and not in the other, as no leak makes it.
    pub unexplained: Option<Item>,
}

/// A loss that is read, under a leak of about so much in 15 minutes.
fn lost(hold: HoldLoss, mean: f64, u: f64) -> f64 {
    const NODES: i32 = 21;
    let mean = mean * hold.minutes / 15.0;
    let (mut sum, mut whole) = (0.0, 0.0);
    for node in 0..NODES {
        let z = 0.2 * f64::from(node) - 2.0;
        let (leak, weight) = (mean * (z * SCATTER).exp(), (-0.5 * z * z).exp());
        sum += weight * normal(hold.loss, leak + 0.3, u.hypot(0.15 * leak));
        whole += weight;
    }
    sum / whole
}

pub(super) fn leaks(evidence: &Evidence) -> LeakOdds {
    let mut weights: [f64; LEAKS] = Group::Leaks.priors();
    let mut unexplained = None;
    let u = 0.4f64.hypot(0.7 * evidence.errors.line_mark / 12f64.sqrt());
    for (item, hold) in [(Item::HoldShut, evidence.hold_shut), (Item::HoldOpen, evidence.hold_open)] {
        let Some(hold) = hold else { continue };
        let tight = normal(hold.loss, 0.3, u);
        let house = if item == Item::HoldShut { tight } else { lost(hold, LOST[0], u) };
        let all = [tight, house, lost(hold, LOST[1], u), lost(hold, LOST[2], u)];
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
    evidence.hold_shut.is_some_and(|hold| hold.loss > 1.0)
}

/// The probability of a leak.
pub(super) fn of(leaks: &LeakOdds, cause: CauseId) -> f64 {
    leaks.probabilities[cause.place()]
}
