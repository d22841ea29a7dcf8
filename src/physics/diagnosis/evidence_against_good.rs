//! What stands against a good word though every claimed cause is unlikely: causes that nobody set out to
//! test, and answers that nothing predicted.

use super::cause::{Cause, CauseId, Group};
use super::causes::CAUSES;
use super::claims::{Claims, LIKELY};
use super::evidence::Evidence;
use super::items::Item;
use super::leaks::fell;
use super::posterior::Posterior;
use super::words::answers_to;

/// From which factor on the odds against its group's healthy condition speak for a cause: 2 to 1. Judgement.
const SPEAKS: f64 = 2.0;
/// How likely a cause may be at most that nobody set out to test, where its group is still called good.
/// Judgement: less than what is lost in a yearly look without a bucket would stand against every tank.
const OPEN: f64 = 0.075;
/// An answer that all others together make so much less likely than chance does not go with them: 10 to 1.
const UNLIKELY: f64 = 10.0;

/// The causes that harm and that nobody set out to test, where they can be: of a loose tank none that needs
/// its line.
fn unclaimed(evidence: &Evidence, claims: &Claims) -> impl Iterator<Item = &'static Cause> {
    let on_line = Item::ALL.into_iter().any(|item| item.is_of_line() && evidence.has(item));
    let claims = *claims;
    CAUSES.iter().filter(move |it| it.harms() && !claims.has(it.id) && (on_line || !it.needs_line()))
}

/// Causes that nobody set out to test, though what was seen makes them likelier than they were.
pub(super) fn beyond(evidence: &Evidence, probabilities: &[f64], claims: &Claims) -> Vec<CauseId> {
    let speaks_for = |cause: &&Cause| {
        let healthy = &cause.group.causes()[0];
        let [p, sound] = [cause.id, healthy.id].map(|id| probabilities[id as usize]);
        p >= LIKELY && p * healthy.prior >= SPEAKS * sound * cause.prior
    };
    unclaimed(evidence, claims).filter(speaks_for).map(|cause| cause.id).collect()
}

/// The groups that a good word may be about: something of them was claimed, and what nobody set out to test
/// is unlikely.
pub(super) fn vouched(evidence: &Evidence, probabilities: &[f64], claims: &Claims) -> Vec<Group> {
    let covered = |group: &Group| {
        let mut open = unclaimed(evidence, claims).filter(|cause| cause.group == *group);
        claims.causes().any(|cause| cause.group == *group && cause.harms())
            && open.all(|cause| probabilities[cause.id as usize] <= OPEN)
    };
    Group::ALL.into_iter().filter(covered).collect()
}

/// What a good word about these groups leaves open: causes that nobody set out to test and nothing looked for,
/// the likeliest first.
pub(super) fn left_open(evidence: &Evidence, claims: &Claims, groups: &[Group]) -> Vec<CauseId> {
    let shown = |cause: &Cause| cause.shown_by.is_some_and(|item| evidence.has(item));
    // Of several tanks taken as one, each has a diagnosis of its own.
    let of_one = |cause: &Cause| evidence.tanks > 1 && cause.group == Group::Tank;
    let of = unclaimed(evidence, claims)
        .filter(|cause| groups.contains(&cause.group) && !shown(cause) && !of_one(cause));
    let mut open: Vec<&Cause> = of.collect();
    open.sort_by(|a, b| b.prior.total_cmp(&a.prior));
    open.into_iter().map(|cause| cause.id).collect()
}

/// The answer in words that goes least with all others, where it is less likely by them than by chance: a
/// check of the whole model on what it did not predict, made before anything is called good. A number that
/// goes with nothing is found out by what misreading it would explain.
pub(super) fn surprising(evidence: &Evidence, posterior: &Posterior) -> Option<Item> {
    let counted = evidence.words.iter().filter(|(item, _)| **item != Item::Look || fell(evidence));
    let against_chance = |(item, answer): (&Item, &usize)| {
        Some((*item, posterior.predicted(*item, *answer)? * answers_to(*item)? as f64))
    };
    let least = counted.filter_map(against_chance).min_by(|a, b| a.1.total_cmp(&b.1));
    least.filter(|(_, times)| times * UNLIKELY < 1.0).map(|(item, _)| item)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::diagnosis::evidence::{GaugeErrors, WellSite};

    /// What is taken out of the whole is what the rest says by itself.
    #[test]
    fn an_answer_is_predicted_as_the_evidence_without_it_says() {
        let labels = (40.0, 60.0);
        let site = WellSite {
            volume: Some(44.0),
            label_cut_in: labels.0,
            label_cut_out: labels.1,
            atmosphere: 14.7,
            head: 0.0,
            gap: 2.0,
        };
        let errors = GaugeErrors { line: 0.6, line_mark: 0.5, air: 0.6, air_mark: 0.5, bucket: 0.02 };
        let mut evidence = Evidence::of(site, errors);
        (evidence.starts, evidence.precharge) = (vec![40.0, 40.5], vec![30.0]);
        for (item, word) in [(Item::Pin, "nothing"), (Item::Needle, "dropped"), (Item::Order, "between")] {
            assert!(evidence.word(item, word));
        }
        let whole = Posterior::of(&evidence);
        for (item, answer) in evidence.words.clone() {
            let rest = Posterior::of(&evidence.without(item));
            let expected = (whole.ln_evidence[0] - rest.ln_evidence[0]).exp();
            let predicted = whole.predicted(item, answer).unwrap();
            assert!((predicted / expected - 1.0).abs() < 1e-6, "{item}: {predicted} {expected}");
        }
    }
}
