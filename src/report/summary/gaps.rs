//! What a run leaves open: checks and their verdicts, what was skipped, what could not be told,
//! what was remarked.

use super::told::Told;
use crate::engine::ACKNOWLEDGE;
use crate::quantity::Verdict;
use crate::record::{Entry, EntryKind, is_derived};
use crate::report::Row;
use crate::report::answers::answer;
use crate::report::steps::Around;
use crate::report::wording::{percent, sentence, verdict_words, when};

impl<'a> Told<'a> {
    /// The checks, of those in a loop the last round's.
    pub fn last_checks(&self) -> Vec<&'a Entry> {
        let mut last: Vec<&Entry> = Vec::new();
        for entry in self.of_kind(EntryKind::Checked) {
            let repeats = self.steps.get(&entry.step).is_some_and(|p| p.around.contains(&Around::Repeat));
            let same = |other: &&mut &Entry| {
                other.step == entry.step && self.steps.tank(other) == self.steps.tank(entry)
            };
            match last.iter_mut().find(same) {
                Some(other) if repeats => *other = entry,
                _ => last.push(entry),
            }
        }
        last
    }

    pub fn checks(&self) -> Vec<Row> {
        let row = |entry: &Entry| {
            let verdict = verdict_words(entry).unwrap_or_default();
            // Without the procedure the comparison itself is all there is to tell.
            let asked = || entry.asked.clone().filter(|_| self.steps.placed.is_empty()).unwrap_or_default();
            Row::new([self.steps.label_of(entry), verdict, entry.told().unwrap_or_else(asked)])
        };
        self.last_checks().into_iter().map(row).collect()
    }

    pub fn skipped(&self) -> Vec<String> {
        let skipped = self.of_kind(EntryKind::Skipped).filter(|entry| !is_derived(entry));
        skipped.map(|entry| self.with_reason(entry)).collect()
    }

    fn with_reason(&self, entry: &Entry) -> String {
        let reason = entry.reason.as_deref().unwrap_or("no reason was given");
        format!("{}: {reason}", self.steps.label_of(entry))
    }

    /// Steps left out or values missing because something was not known, and unsure checks.
    pub fn not_told(&self) -> Vec<String> {
        let mut items = Vec::new();
        for entry in &self.entries {
            match entry.kind {
                EntryKind::Skipped if is_derived(entry) => items.push(self.with_reason(entry)),
                EntryKind::Computed if entry.reason.is_some() => items.push(self.with_reason(entry)),
                _ => {}
            }
        }
        let unsure = self.last_checks().into_iter().filter(|entry| entry.verdict == Some(Verdict::CantTell));
        items.extend(unsure.map(|entry| match (&entry.truth, &entry.reason) {
            (Some(truth), _) => {
                format!("{}: {}", self.steps.label_of(entry), chance(truth.least, truth.most))
            }
            (None, _) => self.with_reason(entry),
        }));
        items
    }

    pub fn remarks(&self) -> Vec<String> {
        let untold = |entry: &Entry| {
            entry.kind == EntryKind::Text
                && self.steps.get(&entry.step).is_some_and(|placed| placed.step.tells.is_none())
        };
        let remarks = self.entries.iter().filter_map(|entry| match entry.kind {
            EntryKind::Note => {
                Some(format!("{}, at {}: {}", when(entry.at), self.steps.label_of(entry), answer(entry)))
            }
            _ if untold(entry) => Some(format!("{}: {}", self.steps.label_of(entry), answer(entry))),
            _ => None,
        });
        remarks.collect()
    }

    pub fn cautions(&self) -> String {
        let acknowledged = |entry: &&Entry| {
            entry.given.as_deref().is_some_and(|given| given.eq_ignore_ascii_case(ACKNOWLEDGE))
        };
        format!("Cautions acknowledged: {}.", self.of_kind(EntryKind::Done).filter(acknowledged).count())
    }

    /// What of the record is not on this page because it could not be read.
    pub fn gaps(&self) -> Vec<String> {
        let torn = self.contents.torn.as_ref().map(|torn| format!("{}.", sentence(&torn.told())));
        let foreign = match self.contents.foreign.len() {
            0 => None,
            1 => Some("1 entry was written by a later version and is not shown.".to_string()),
            n => Some(format!("{n} entries were written by a later version and are not shown.")),
        };
        torn.into_iter().chain(foreign).collect()
    }
}

/// How likely something is, in words.
fn chance(least: f64, most: f64) -> String {
    match (percent(least), percent(most)) {
        (least, most) if least == most => format!("can't tell; it holds with a chance of {least}"),
        (least, most) => format!("can't tell; it holds with a chance of {least} to {most}"),
    }
}
