//! What a run leaves open: checks and their verdicts, what was skipped, what could not be told,
//! what was remarked.

use super::effective_entries::EffectiveEntries;
use crate::clock::Moment;
use crate::procedure::LoopKind;
use crate::quantity::Verdict;
use crate::record::{Entry, EntryKind};
use crate::report::Row;
use crate::report::answers::answer;
use crate::report::wording::{percent, sentence, verdict_words, when};

impl<'a> EffectiveEntries<'a> {
    /// The checks, of those in a loop the last round's.
    pub fn last_checks(&self) -> Vec<&'a Entry> {
        let mut last: Vec<&Entry> = Vec::new();
        for entry in self.of_kind(EntryKind::Checked) {
            let repeats = self.steps.get(&entry.step).is_some_and(|p| p.around.contains(&LoopKind::Repeat));
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
            Row::new([self.steps.label_of(entry), verdict, entry.message().unwrap_or_else(asked)])
        };
        self.last_checks().into_iter().map(row).collect()
    }

    pub fn skipped(&self) -> Vec<String> {
        let skipped = self.of_kind(EntryKind::Skipped).filter(|entry| !entry.is_derived());
        skipped.map(|entry| self.with_reason(entry)).collect()
    }

    fn with_reason(&self, entry: &Entry) -> String {
        let reason = entry.reason.as_deref().unwrap_or("no reason was given");
        format!("{}: {reason}", self.steps.label_of(entry))
    }

    /// Steps left out or values missing because something was not known, and unsure checks.
    pub fn not_reported(&self) -> Vec<String> {
        let mut items = Vec::new();
        let left_out = |entry: &Entry| entry.kind == EntryKind::Skipped && entry.is_derived();
        let unreported = |entry: &Entry| entry.kind == EntryKind::Computed && entry.reason.is_some();
        let missing = self.entries.iter().filter(|entry| left_out(entry) || unreported(entry));
        items.extend(missing.map(|entry| self.with_reason(entry)));
        let unsure = self.last_checks().into_iter().filter(|entry| entry.verdict == Some(Verdict::Unsure));
        items.extend(unsure.map(|entry| match (&entry.truth, &entry.reason) {
            (Some(truth), _) => {
                format!("{}: {}", self.steps.label_of(entry), chance(truth.least, truth.most))
            }
            (None, _) => self.with_reason(entry),
        }));
        items
    }

    pub fn remarks(&self) -> Vec<String> {
        let unreported = |entry: &Entry| {
            entry.kind == EntryKind::Text
                && self.steps.get(&entry.step).is_some_and(|placed| placed.step.tells.is_none())
        };
        let remark = |entry: &&Entry| {
            let (label, text) = (self.steps.label_of(entry), answer(entry));
            if entry.kind == EntryKind::Note {
                Some(format!("{}, at {label}: {text}", when(entry.at)))
            } else {
                unreported(entry).then(|| format!("{label}: {text}"))
            }
        };
        self.entries.iter().filter_map(remark).collect()
    }

    /// What the person was warned of and said to have read, each message once, with its time.
    pub fn warnings(&self) -> Vec<(Moment, &'a str)> {
        let mut read: Vec<(Moment, &str)> = Vec::new();
        for entry in self.of_kind(EntryKind::Understood) {
            for message in &entry.warned {
                if read.iter().all(|(_, known)| known != message) {
                    read.push((entry.at, message));
                }
            }
        }
        read
    }

    /// The first line of each warning that was read.
    pub fn warnings_in_short(&self) -> Vec<String> {
        let first = |(_, message): (Moment, &str)| message.lines().next().unwrap_or_default().to_string();
        self.warnings().into_iter().map(first).collect()
    }

    /// What of the record is not on this page because it could not be read.
    pub fn gaps(&self) -> Vec<String> {
        let torn = self.contents.torn.as_ref().map(|torn| format!("{}.", sentence(&torn.message())));
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
