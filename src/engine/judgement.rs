//! How checks are judged, and what was judged already.
//!
//! A verdict is given once: when answers are gone through anew, after one was taken back or when a
//! record is gone on with, the verdicts that were given then stand. To judge them again would only
//! cost time, as nothing they rest on has changed.

use std::collections::HashMap;
use std::sync::Arc;

use super::place::AnswerPlace;
use crate::lang::{Explanation, Unknown};
use crate::quantity::{Measure, Truth, Uncertain, Verdict};
use crate::record::{Entry, are_effective};

/// What a check came to.
#[derive(Clone, Debug)]
pub struct Judgement {
    /// How likely it holds.
    pub truth: Result<Truth, Unknown>,
    /// What it said.
    pub verdict: Verdict,
    /// What the record says beside: why it cannot be told, or that the uncertainty is asymmetric.
    pub reason: Option<String>,
    /// What would decide it.
    pub advice: Option<String>,
}

/// How one check came to its verdict.
#[derive(Clone, Debug)]
pub struct CheckDerivation {
    /// The step that checked it.
    pub step: Arc<str>,
    /// What it compared.
    pub how: Explanation,
    /// By how much it holds, to first order; below zero it does not. Only of a comparison.
    pub margin: Option<(Measure, Uncertain)>,
    /// What it came to.
    pub judgement: Judgement,
    /// The probability it went by.
    pub confidence: f64,
}

/// Where something was judged: the place of the check, and the number of the answer it came after. All answers
/// before that one are the same whenever it is in effect.
pub(super) type JudgementKey = (AnswerPlace, u64);

/// What was judged.
#[derive(Clone, Debug, Default)]
pub(super) struct Judgements {
    /// What checks came to.
    pub checks: HashMap<JudgementKey, Judgement>,
    /// What diagnoses found, as entries.
    pub diagnosed: HashMap<JudgementKey, Vec<Entry>>,
}

impl Judgements {
    /// The verdicts of a record. What could not be worked out is not among them: it costs nothing
    /// to find that again.
    pub(super) fn of(entries: &[Entry]) -> Judgements {
        let mut judged = Judgements::default();
        let mut diagnosis: Vec<Entry> = Vec::new();
        let mut newest = 0;
        for (entry, counts) in entries.iter().zip(are_effective(entries)) {
            let goes_on = diagnosis.last().is_some_and(|last| place_of(last) == place_of(entry));
            if !(goes_on && entry.is_of_diagnosis()) {
                // What nothing follows may be cut off: it is made again.
                if let Some(last) = diagnosis.last() {
                    let key = (place_of(last), newest);
                    judged.diagnosed.insert(key, std::mem::take(&mut diagnosis));
                }
            }
            if !counts {
                continue;
            }
            if entry.is_of_diagnosis() {
                diagnosis.push(entry.clone());
            } else if let (Some(truth), Some(verdict)) = (entry.truth, entry.verdict) {
                let (reason, advice) = (entry.reason.clone(), entry.advice.clone());
                let judgement = Judgement { truth: Ok(truth), verdict, reason, advice };
                judged.checks.insert((AnswerPlace::of(entry), newest), judgement);
            } else if entry.moves_on() {
                newest = entry.n;
            }
        }
        judged
    }
}

/// Where a diagnosis stands, whichever of its findings it is.
fn place_of(entry: &Entry) -> AnswerPlace {
    AnswerPlace { take: None, ..AnswerPlace::of(entry) }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use proptest::prelude::*;

    use super::*;
    use crate::clock::Moment;
    use crate::record::{EntryKind, effective_entries};

    /// A diagnosis in the record is believed, once something stands after it.
    #[test]
    fn a_diagnosis_is_taken_from_the_record() {
        let at = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
        let entry = |n, kind, step: &str, take| Entry { n, take, ..Entry::new(kind, step, at) };
        let found = |n, step: &str, take| entry(n, EntryKind::Finding, step, Some(take));
        let all = [
            entry(1, EntryKind::Reading, "air", Some(1)),
            found(2, "found", 1),
            found(3, "found", 2),
            found(4, "left", 1),
            entry(5, EntryKind::Message, "told", None),
        ];
        let numbers = |entries: &[Entry]| {
            let judged = Judgements::of(entries);
            let mut all: Vec<(String, u64, Vec<u64>)> = judged
                .diagnosed
                .iter()
                .map(|((place, after), found)| {
                    (place.step.to_string(), *after, found.iter().map(|entry| entry.n).collect())
                })
                .collect();
            all.sort();
            all
        };
        let first = ("found".to_string(), 1, vec![2, 3]);
        assert_eq!(numbers(&all), [first.clone(), ("left".to_string(), 1, vec![4])]);
        assert_eq!(numbers(&all[..4]), [first]);
        assert_eq!(numbers(&all[..3]), []);
    }

    #[test]
    fn a_fact_to_be_told_takes_no_answer_back() {
        let at = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
        let entry = |n, kind, step: &str| Entry { n, ..Entry::new(kind, step, at) };
        let newest = |withdrawn| {
            let all = [
                entry(1, EntryKind::Fact, "volume"),
                entry(2, EntryKind::Reading, "air"),
                Entry { replaces: Some(withdrawn), ..entry(3, EntryKind::Withdrawn, "volume") },
                Entry { take: Some(1), ..entry(4, EntryKind::Finding, "found") },
                entry(5, EntryKind::Message, "told"),
            ];
            Judgements::of(&all).diagnosed.into_keys().map(|(_, newest)| newest).collect::<Vec<_>>()
        };
        assert_eq!(newest(1), [2]);
        assert_eq!(newest(2), [0]);
    }

    proptest! {
        /// Whatever was taken back, only the verdicts that stand are remembered.
        #[test]
        fn only_the_entries_that_stand_tell_verdicts(
            done in proptest::collection::vec((0..4_usize, 0..12_u64), 0..30),
        ) {
            let at = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
            let kinds = [EntryKind::Reading, EntryKind::Checked, EntryKind::Finding, EntryKind::Withdrawn];
            let all: Vec<Entry> = done.iter().zip(1..).map(|((kind, back), n)| Entry {
                n,
                replaces: (*kind == 3).then(|| n.saturating_sub(*back)),
                take: (*kind == 2).then_some(1),
                truth: Some(Truth::certain(true)),
                verdict: Some(Verdict::Pass),
                ..Entry::new(kinds[*kind], "here", at)
            }).collect();
            let newest = |entries: &[Entry]| {
                let judged = Judgements::of(entries);
                let both = judged.checks.into_keys().chain(judged.diagnosed.into_keys());
                both.map(|(_, newest)| newest).collect::<BTreeSet<_>>()
            };
            // What nothing follows would be made again.
            let last = |kind| Entry { n: 100, ..Entry::new(kind, "last", at) };
            let whole: Vec<Entry> = all.iter().cloned().chain([last(EntryKind::Message)]).collect();
            let standing: Vec<Entry> = effective_entries(&whole).cloned().collect();
            prop_assert_eq!(newest(&whole), newest(&standing));
        }
    }
}
