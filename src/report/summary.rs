//! What came of a run, on one page: found, done, left; checks, gaps and what is not certified.

use super::answers::{answer, in_a_row};
use super::in_force::{in_force, is_derived};
use super::steps::{Around, Placed, Steps};
use super::{Page, Row};
use crate::clock::Moment;
use crate::engine::ACKNOWLEDGE;
use crate::procedure::{Action, Procedure, Tells};
use crate::quantity::Verdict;
use crate::record::{Contents, Entry, EntryKind, Outcome};
use crate::words::counted;

/// What a record does not say, at the end of every summary.
const NOT_CERTIFIED: &str = "This record tells what was measured, with the gauges named in it. It does not \
certify the tank, the water or the wiring. Local codes, and licensed electricians, plumbers and pump installers, \
decide where they apply.";

/// Said of a record of an invented installation.
const INVENTED: &str = "The installation is invented, and so is every reading: a demonstration.";

/// What a person sees right after a run, and at the head of a record shown later: how it ended,
/// what was found, done and left, every check, what was skipped and what could not be told.
///
/// Labels and headings come from the procedure; without it every answer is listed by its id.
pub fn summary_page(contents: &Contents, procedure: Option<&Procedure>) -> Page {
    let told = Told::new(contents, procedure);
    let mut page = Page::titled(&contents.header.title);
    page.table(&[], told.particulars());
    if contents.header.demo {
        page.note(INVENTED);
    }
    match procedure {
        Some(_) => {
            for (tells, heading) in [(Tells::Found, "Found"), (Tells::Done, "Done"), (Tells::Left, "Left")] {
                page.headed_table(heading, &[], told.telling(tells));
            }
        }
        None => page.headed_table("Answers", &[], told.all()),
    }
    page.headed_table("Checks", &["Check", "Verdict", "What was told"], told.checks());
    page.headed_list("Skipped, with reasons", told.skipped());
    page.headed_list("Not tested or not told", told.not_told());
    page.headed_list("Remarks", told.remarks());
    page.text(told.cautions());
    for gap in told.gaps() {
        page.note(gap);
    }
    page.note(NOT_CERTIFIED);
    page
}

/// A date and a time of day, as on a wall.
pub(super) fn when(at: Moment) -> String {
    format!("{} {}", at.date(), at.time_of_day())
}

/// How a run ended, in words.
pub(super) fn outcome_words(outcome: Option<Outcome>) -> &'static str {
    match outcome {
        Some(Outcome::Completed) => "completed",
        Some(Outcome::Failed) => "the tank or the installation failed",
        Some(Outcome::Unfinished) => "the work stopped before its end",
        None => "not ended yet",
    }
}

/// A record's entries in force, with what the procedure says of them.
struct Told<'a> {
    contents: &'a Contents,
    steps: Steps<'a>,
    entries: Vec<&'a Entry>,
}

impl<'a> Told<'a> {
    fn new(contents: &'a Contents, procedure: Option<&'a Procedure>) -> Told<'a> {
        let counts = in_force(&contents.entries);
        let entries = contents.entries.iter().zip(counts).filter(|(_, counts)| *counts);
        Told { contents, steps: Steps::of(procedure), entries: entries.map(|(entry, _)| entry).collect() }
    }

    fn of_kind(&self, kind: EntryKind) -> impl Iterator<Item = &'a Entry> {
        self.entries.iter().copied().filter(move |entry| entry.kind == kind)
    }

    fn particulars(&self) -> Vec<Row> {
        let header = &self.contents.header;
        let summary = self.contents.summary.as_ref();
        let mut rows = vec![Row::new(["Record", &header.id])];
        let mut row = |word: &str, text: Option<String>| {
            rows.extend(text.map(|text| Row::new([word.to_string(), text])));
        };
        row("Site", header.site.clone());
        row("Tank", header.tank.clone());
        row("Begun", Some(when(header.started)));
        row("Ended", summary.map(|summary| when(summary.at)));
        row("Outcome", Some(self.outcome()));
        row("In words", summary.map(|summary| summary.words.clone()).filter(|words| !words.is_empty()));
        rows
    }

    /// The outcome, with the checks that failed or could not tell.
    fn outcome(&self) -> String {
        let outcome = outcome_words(self.contents.summary.as_ref().map(|summary| summary.outcome));
        let count =
            |verdict| self.last_checks().iter().filter(|check| check.verdict == Some(verdict)).count();
        let mut parts = vec![outcome.to_string()];
        match count(Verdict::Fail) {
            0 => {}
            n => parts.push(format!("{} failed", counted(n, "check"))),
        }
        match count(Verdict::CantTell) {
            0 => {}
            n => parts.push(format!("{} could not tell", counted(n, "check"))),
        }
        parts.join("; ")
    }

    /// The answers that tell of one thing, in the order of the procedure, one row for each tank.
    fn telling(&self, tells: Tells) -> Vec<Row> {
        let steps = self.steps.placed.iter().filter(|placed| placed.step.tells == Some(tells));
        steps.flat_map(|placed| self.rows_of(placed)).collect()
    }

    fn rows_of(&self, placed: &Placed<'a>) -> Vec<Row> {
        let label = placed.step.name();
        if let Action::Repeat(_) = placed.step.action {
            let rounds = self.rounds(placed);
            return rounds
                .map(|rounds| Row::new([label, counted(rounds as usize, "round")]))
                .into_iter()
                .collect();
        }
        let mut tanks: Vec<(Option<u32>, Vec<&Entry>)> = Vec::new();
        for entry in self.entries.iter().copied().filter(|entry| *entry.step == *placed.step.id) {
            if matches!(
                entry.kind,
                EntryKind::Note | EntryKind::Paused | EntryKind::Resumed | EntryKind::WaitBegun
            ) {
                continue;
            }
            let tank = self.steps.tank(entry);
            match tanks.iter_mut().find(|(of, _)| *of == tank) {
                Some((_, entries)) => entries.push(entry),
                None => tanks.push((tank, vec![entry])),
            }
        }
        let row = |(tank, entries): (Option<u32>, Vec<&Entry>)| {
            let label = tank.map_or_else(|| label.clone(), |tank| format!("{label}, tank {tank}"));
            Row::new([label, self.value(placed, &entries)])
        };
        tanks.into_iter().map(row).collect()
    }

    /// Several answers as one cell: of rounds with several readings each, the last round's.
    fn value(&self, placed: &Placed<'a>, entries: &[&Entry]) -> String {
        let last_round = entries.last().map(|entry| entry.round.clone()).unwrap_or_default();
        let takes = entries.iter().any(|entry| entry.take.is_some());
        let shown: Vec<&Entry> =
            entries.iter().copied().filter(|entry| !takes || entry.round == last_round).collect();
        let told = match (&placed.step.action, shown.as_slice()) {
            (Action::Choose(choose), [one]) => {
                let choice =
                    choose.choices.iter().find(|choice| Some(choice.value.as_ref()) == one.given.as_deref());
                let label = choice.and_then(|choice| choice.label.as_ref());
                let plain = label.filter(|label| label.holes().next().is_none());
                plain.map_or_else(|| answer(one), |label| label.unfilled())
            }
            (Action::Do(_), [one]) if one.kind == EntryKind::Done => format!("done {}", one.at.time_of_day()),
            _ => in_a_row(&shown),
        };
        match shown.last().and_then(|entry| entry.gauge.as_ref()) {
            Some(gauge) => format!("{told} (gauge: {gauge})"),
            None => told,
        }
    }

    /// How many rounds of a loop were walked.
    fn rounds(&self, placed: &Placed<'a>) -> Option<u32> {
        let depth = placed.around.len();
        let inside = |entry: &&&Entry| placed.step.body().iter().any(|step| *step.id == *entry.step);
        self.entries.iter().filter(inside).filter_map(|entry| entry.round.get(depth).copied()).max()
    }

    /// Every answer by its id, when there is no procedure.
    fn all(&self) -> Vec<Row> {
        use EntryKind::{Choice, Computed, Done, Fact, Reading, Text, Waited};
        let answers = self
            .entries
            .iter()
            .filter(|entry| matches!(entry.kind, Choice | Computed | Done | Fact | Reading | Text | Waited));
        answers.map(|entry| Row::new([self.steps.label_of(entry), answer(entry)])).collect()
    }

    /// The checks, of those in a loop the last round's.
    fn last_checks(&self) -> Vec<&'a Entry> {
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

    fn checks(&self) -> Vec<Row> {
        let row = |entry: &Entry| {
            let verdict = entry.verdict.map_or("", Verdict::word);
            let asked = || entry.asked.clone().unwrap_or_default();
            Row::new([
                self.steps.label_of(entry),
                verdict.to_string(),
                entry.said.clone().unwrap_or_else(asked),
            ])
        };
        self.last_checks().into_iter().map(row).collect()
    }

    fn skipped(&self) -> Vec<String> {
        let skipped = self.of_kind(EntryKind::Skipped).filter(|entry| !is_derived(entry));
        skipped.map(|entry| self.with_reason(entry)).collect()
    }

    fn with_reason(&self, entry: &Entry) -> String {
        let reason = entry.reason.as_deref().unwrap_or("no reason was given");
        format!("{}: {reason}", self.steps.label_of(entry))
    }

    /// Steps left out or values missing because something was not known, and unsure checks.
    fn not_told(&self) -> Vec<String> {
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

    fn remarks(&self) -> Vec<String> {
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

    fn cautions(&self) -> String {
        let acknowledged = |entry: &&Entry| {
            entry.given.as_deref().is_some_and(|given| given.eq_ignore_ascii_case(ACKNOWLEDGE))
        };
        format!("Cautions acknowledged: {}.", self.of_kind(EntryKind::Done).filter(acknowledged).count())
    }

    /// What of the record is not on this page because it could not be read.
    fn gaps(&self) -> Vec<String> {
        let torn = self.contents.torn.as_ref().map(|torn| format!("{}.", sentence(&torn.told())));
        let foreign = match self.contents.foreign.len() {
            0 => None,
            1 => Some("1 entry was written by a later version and is not shown.".to_string()),
            n => Some(format!("{n} entries were written by a later version and are not shown.")),
        };
        torn.into_iter().chain(foreign).collect()
    }
}

/// A text with a capital at its beginning.
pub(super) fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// How likely something is, in words.
fn chance(least: f64, most: f64) -> String {
    let percent = |p: f64| format!("{:.0} %", 100.0 * p.clamp(0.0, 1.0));
    match (percent(least), percent(most)) {
        (least, most) if least == most => format!("can't tell; it holds with a chance of {least}"),
        (least, most) => format!("can't tell; it holds with a chance of {least} to {most}"),
    }
}
