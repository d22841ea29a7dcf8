//! What a run leaves open: what was skipped, what could not be told, what was remarked.

use super::RunView;
use crate::clock::Moment;
use crate::quantity::Verdict;
use crate::record::{Entry, EntryKind};
use crate::report::Page;
use crate::report::answers::answer;
use crate::report::wording::{percents, when};
use crate::words::capitalized;

impl<'a> RunView<'a> {
    /// Adds what was skipped, what was not tested or not told, and what was remarked.
    pub(in crate::report) fn put_open(&self, page: &mut Page) {
        page.headed_list("Skipped, with reasons", self.skipped());
        page.headed_list("Not tested or not told", self.not_reported());
        page.headed_list("Remarks", self.remarks());
    }

    pub(in crate::report) fn skipped(&self) -> Vec<String> {
        self.skipped_entries().map(|entry| self.with_reason(entry)).collect()
    }

    /// What was skipped, without the reasons.
    pub(in crate::report) fn skipped_labels(&self) -> Vec<String> {
        self.skipped_entries().map(|entry| self.steps.label_of(entry)).collect()
    }

    fn skipped_entries(&self) -> impl Iterator<Item = &'a Entry> {
        self.of_kind(EntryKind::Skipped).filter(|entry| !entry.is_derived())
    }

    fn with_reason(&self, entry: &Entry) -> String {
        let reason = entry.reason.as_deref().unwrap_or("no reason was given");
        format!("{}: {reason}", self.steps.label_of(entry))
    }

    /// Steps left out or values missing because something was not known, and unsure checks.
    fn not_reported(&self) -> Vec<String> {
        let left_out = |entry: &Entry| entry.kind == EntryKind::Skipped && entry.is_derived();
        let unreported = |entry: &Entry| entry.kind == EntryKind::Computed && entry.reason.is_some();
        let missing = self.entries.iter().filter(|entry| left_out(entry) || unreported(entry));
        let missing = missing.map(|entry| self.with_reason(entry));
        let unsure = self.checks_that(Verdict::Unsure).map(|entry| match entry.truth {
            Some(truth) => {
                let label = self.steps.label_of(entry);
                format!("{label}: can't tell; it holds with a chance of {}", percents(truth))
            }
            None => self.with_reason(entry),
        });
        missing.chain(unsure).collect()
    }

    fn remarks(&self) -> Vec<String> {
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

    /// What the person was warned of, each message once, with the time of the answer before which it stood.
    pub(in crate::report) fn warnings(&self) -> Vec<(Moment, &'a str)> {
        let mut read: Vec<(Moment, &str)> = Vec::new();
        for entry in &self.entries {
            for message in &entry.warned {
                if read.iter().all(|(_, known)| known != message) {
                    read.push((entry.at, message));
                }
            }
        }
        read
    }

    /// The first line of each warning that was shown.
    pub(in crate::report) fn warnings_in_short(&self) -> Vec<String> {
        let first = |(_, message): (Moment, &str)| message.lines().next().unwrap_or_default().to_string();
        self.warnings().into_iter().map(first).collect()
    }

    /// Adds the warnings that were shown, word for word.
    pub(in crate::report) fn put_warnings(&self, page: &mut Page) {
        let warnings = self.warnings().into_iter();
        let quoted =
            warnings.map(|(at, message)| format!("{} {}", at.time_of_day(), message.replace('\n', " ")));
        page.headed_list("Warnings shown, word for word", quoted);
    }

    /// Adds a note on what follows the last seal that holds.
    pub(in crate::report) fn put_torn(&self, page: &mut Page) {
        if let Some(torn) = &self.contents.torn {
            page.note(format!("{}.", capitalized(&torn.message())));
        }
    }

    /// Adds notes on what of the record is not on this page because it could not be read.
    pub(in crate::report) fn put_gaps(&self, page: &mut Page) {
        self.put_torn(page);
        match self.contents.foreign.len() {
            0 => {}
            1 => page.note("1 entry was written by a later version and is not shown."),
            n => page.note(format!("{n} entries were written by a later version and are not shown.")),
        }
    }
}
