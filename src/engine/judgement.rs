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
use crate::record::{Entry, EntryKind};

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

/// What was judged, by the place of the check and the number of the answer it came after. All
/// answers before that one are the same whenever it is in effect.
#[derive(Clone, Debug, Default)]
pub(super) struct Judgements {
    /// What checks came to.
    pub checks: HashMap<(AnswerPlace, u64), Judgement>,
    /// What diagnoses found, as entries.
    pub diagnosed: HashMap<(AnswerPlace, u64), Vec<Entry>>,
}

impl Judgements {
    /// The verdicts of a record. What could not be worked out is not among them: it costs nothing
    /// to find that again.
    pub fn of(entries: &[Entry]) -> Judgements {
        let mut judged = Judgements::default();
        let mut told: Vec<Entry> = Vec::new();
        let mut answers: Vec<u64> = Vec::new();
        for entry in entries {
            if entry.take.is_none() {
                told.clear();
            }
            if entry.kind == EntryKind::Withdrawn {
                answers.pop();
            } else if let (Some(truth), Some(verdict)) = (entry.truth, entry.verdict) {
                let (reason, advice) = (entry.reason.clone(), entry.advice.clone());
                let judgement = Judgement { truth: Ok(truth), verdict, reason, advice };
                let newest = answers.last().copied().unwrap_or(0);
                judged.checks.insert((AnswerPlace::of(entry), newest), judgement);
            } else if entry.take.is_some() && entry.kind == EntryKind::Finding {
                told.push(entry.clone());
            } else if entry.take.is_some() && entry.kind == EntryKind::Message {
                // A diagnosis ends in what to do for now; one cut off before that is made again.
                told.push(entry.clone());
                let place = AnswerPlace { take: None, ..AnswerPlace::of(entry) };
                let newest = answers.last().copied().unwrap_or(0);
                judged.diagnosed.insert((place, newest), std::mem::take(&mut told));
            } else if !entry.is_derived() && !entry.kind.is_aside() {
                answers.push(entry.n);
            }
        }
        judged
    }
}
