//! Every reading with its gauge and its limits, and what was amended.

use std::collections::BTreeSet;

use crate::quantity::{Measure, Uncertain, show_briefly};
use crate::record::{Entry, EntryKind, are_effective};
use crate::report::answers::{answer, in_a_row};
use crate::report::summary::effective_entries::EffectiveEntries;
use crate::report::wording::{sentence, when};
use crate::report::{Page, Row};
use crate::system::{Accuracy, Gauge, Reads, System};

impl EffectiveEntries<'_> {
    /// Adds the readings, the gauges they were taken with, and the answers that were amended.
    pub(super) fn put_readings(&self, system: Option<&System>, page: &mut Page) {
        let entries = &self.contents.entries;
        let counts = are_effective(entries);
        let readings = entries.iter().zip(&counts).filter(|(entry, _)| entry.kind == EntryKind::Reading);
        let all: Vec<(&Entry, &bool)> = readings.clone().collect();
        // Readings of one step that follow each other stand in one row.
        let together = all.chunk_by(|(a, counts), (b, other)| {
            a.step == b.step
                && a.gauge == b.gauge
                && self.steps.tank(a) == self.steps.tank(b)
                && counts == other
        });
        let mut day = self.contents.header.started.date();
        let rows: Vec<Row> = together.filter_map(|readings| self.reading(readings, &mut day)).collect();
        page.headed_table("Readings", &["Time", "Reading", "Value, limits at 95 %", "Gauge"], rows);
        let gauges: BTreeSet<&str> = readings.filter_map(|(entry, _)| entry.gauge.as_deref()).collect();
        let known = |id: &&str| Some(described(system?.gauge(id)?, self.contents.header.units));
        page.headed_table("Gauges", &[], gauges.iter().filter_map(known).collect());
        page.headed_table("Amended answers", &["No.", "Answer to", "Answer"], self.amended(&counts));
    }

    /// Readings as one row; with the date where a new `day` begins.
    fn reading(&self, readings: &[(&Entry, &bool)], day: &mut String) -> Option<Row> {
        let (first, counts) = *readings.first()?;
        let time = if first.at.date() == *day { first.at.time_of_day() } else { when(first.at) };
        *day = first.at.date();
        let entries: Vec<&Entry> = readings.iter().map(|(entry, _)| *entry).collect();
        let label = match entries.len() {
            1 => self.steps.label_of(first),
            _ => self.steps.label_of(&Entry {
                take: None,
                round: self.common_round(&entries),
                ..(*first).clone()
            }),
        };
        let gauge = first.gauge.clone().unwrap_or_default();
        Some(Row::new([time, label, in_a_row(&entries), gauge]).struck_if(!counts))
    }

    /// The round that readings share, as far as they share it.
    fn common_round(&self, readings: &[&Entry]) -> Vec<u32> {
        let Some((first, rest)) = readings.split_first() else { return Vec::new() };
        let shared = |at: usize| rest.iter().all(|other| other.round.get(at) == first.round.get(at));
        first.round.iter().enumerate().take_while(|(at, _)| shared(*at)).map(|(_, round)| *round).collect()
    }

    /// Answers that a person took back, each with what stands in its place.
    fn amended(&self, counts: &[bool]) -> Vec<Row> {
        let skipped = |entry: &Entry| entry.kind == EntryKind::Skipped;
        let given = |entry: &Entry| (entry.kind.is_answer() || skipped(entry)) && !entry.is_derived();
        let row = |entry: &Entry| Row::new([entry.n.to_string(), self.steps.label_of(entry), answer(entry)]);
        let mut rows = Vec::new();
        let entries = &self.contents.entries;
        for (entry, counts) in entries.iter().zip(counts) {
            if *counts && entry.replaces.is_some() && given(entry) {
                rows.push(row(entry));
            } else if !*counts && given(entry) {
                rows.push(row(entry).struck_if(true));
            }
        }
        rows
    }
}

/// A gauge in words: what it is, and how well it reads.
fn described(gauge: &Gauge, units: crate::quantity::Units) -> Row {
    let measure = change_of(gauge);
    let amount = |si: f64| show_briefly(measure, &Uncertain::exact(si), units);
    let mut parts = vec![gauge.name.to_string()];
    match gauge.accuracy {
        Accuracy::Within(limit) => parts.push(format!("right within {}", amount(limit))),
        Accuracy::Share(share) => parts.push(format!("right within {:.0} % of the reading", 100.0 * share)),
        Accuracy::Grade(grade) => parts.push(format!("of grade {}", grade.name)),
    }
    parts.extend(gauge.span.map(|span| format!("up to {}", amount(span))));
    if gauge.division > 0.0 {
        let word = if gauge.reads == Reads::Digital { "steps of" } else { "marks every" };
        parts.push(format!("{word} {}", amount(gauge.division)));
    }
    Row::new([gauge.id.to_string(), sentence(&parts.join("; "))])
}

/// The measure in which a gauge's limits of error are told.
fn change_of(gauge: &Gauge) -> Measure {
    let measure = Measure::all().find(|measure| measure.family() == gauge.family);
    measure.map_or(Measure::Number, Measure::difference)
}
