//! Every reading with its gauge and its limits, and what was amended.

use std::collections::BTreeSet;

use crate::quantity::{Measure, Uncertain, Units, show_briefly};
use crate::record::{Entry, EntryKind};
use crate::report::answers::{answer, in_a_row, plainly};
use crate::report::run_view::{EntryView, RunView};
use crate::report::wording::when_after;
use crate::report::{Page, Row};
use crate::system::{Accuracy, Gauge, Reads};
use crate::words::capitalized;

impl RunView<'_> {
    /// Adds the readings, the gauges they were taken with, and the answers that were amended.
    pub(super) fn put_readings(&self, page: &mut Page) {
        let readings: Vec<EntryView<'_>> =
            self.all.iter().copied().filter(|seen| seen.entry.kind == EntryKind::Reading).collect();
        // Readings of one step that follow each other stand in one row.
        let together = readings.chunk_by(|EntryView { entry: a, counts, .. }, other| {
            let b = other.entry;
            a.step == b.step
                && a.gauge == b.gauge
                && self.steps.tank(a) == self.steps.tank(b)
                && *counts == other.counts
        });
        let mut day = self.contents.header.started.date();
        let rows = together.filter_map(|readings| self.reading(readings, &mut day));
        page.headed_table("Readings", &["Time", "Reading", "Value, limits at 95 %", "Gauge"], rows);
        page.headed_table("Amended answers", &["No.", "Answer to", "Answer"], self.amended());
    }

    /// The gauges that readings were taken with, each with how well it reads.
    pub(in crate::report) fn gauges(&self) -> Vec<String> {
        let readings = self.of_kind(EntryKind::Reading);
        let gauges: BTreeSet<&str> = readings.filter_map(|entry| entry.gauge.as_deref()).collect();
        let known = |id: &&str| {
            let system = self.system?;
            let gauge = system.gauge(id)?;
            let units = self.contents.header.units;
            let described = if system.has_gauge(id) {
                described(gauge, units)
            } else {
                format!("{}, not described: taken to be {}", capitalized(&gauge.name), accuracy(gauge, units))
            };
            let compared = self.at_nothing(id).map(|read| format!("; {read}")).unwrap_or_default();
            Some(format!("{described}{compared}"))
        };
        gauges.iter().filter_map(known).collect()
    }

    /// What a gauge showed when there was nothing to show: how it was last compared.
    fn at_nothing(&self, gauge: &str) -> Option<String> {
        let is_of = |entry: &&&Entry| {
            entry.kind == EntryKind::Reading
                && entry.gauge.as_deref() == Some(gauge)
                && entry.observes.as_deref() == Some("resting_gauge")
        };
        let read = self.entries.iter().rfind(is_of)?;
        Some(format!("read {} with the line empty, {}", plainly(read), read.at.date()))
    }

    /// Readings as one row; with the date where a new `day` begins.
    fn reading(&self, readings: &[EntryView<'_>], day: &mut String) -> Option<Row> {
        let EntryView { entry: first, counts, .. } = *readings.first()?;
        let entries: Vec<&Entry> = readings.iter().map(|seen| seen.entry).collect();
        let label = match entries.len() {
            1 => self.steps.label_of(first),
            _ => self.steps.label_of(&Entry {
                take: None,
                round: self.common_round(&entries),
                ..first.clone()
            }),
        };
        // Its name up to a comma, where the system is at hand.
        let known = |id| self.system.and_then(|system| system.gauge(id)).map_or(id, Gauge::called);
        let gauge = first.gauge.as_deref().map_or("", known).to_string();
        let cells = [when_after(day, first.at), label, in_a_row(&entries), gauge];
        Some(Row::new(cells).struck_if(!counts))
    }

    /// The round that readings share, as far as they share it.
    fn common_round(&self, readings: &[&Entry]) -> Vec<u32> {
        let Some((first, rest)) = readings.split_first() else { return Vec::new() };
        let shared = |at: usize| rest.iter().all(|other| other.round.get(at) == first.round.get(at));
        first.round.iter().enumerate().take_while(|(at, _)| shared(*at)).map(|(_, round)| *round).collect()
    }

    /// Answers that a person took back, each with what stands in its place.
    fn amended(&self) -> Vec<Row> {
        let given = |entry: &Entry| entry.moves_on() && !entry.kind.is_beginning();
        let changed = |seen: &&EntryView<'_>| !seen.counts || seen.entry.replaces.is_some();
        let row = |EntryView { entry, counts, .. }: &EntryView<'_>| {
            let cells = [entry.n.to_string(), self.steps.label_of(entry), answer(entry)];
            Row::new(cells).struck_if(!counts)
        };
        self.all.iter().filter(|seen| given(seen.entry)).filter(changed).map(row).collect()
    }
}

/// How well a gauge reads.
fn accuracy(gauge: &Gauge, units: Units) -> String {
    match gauge.accuracy {
        Accuracy::Within(limit) => {
            format!("accurate to ± {}", show_briefly(change_of(gauge), &Uncertain::exact(limit), units))
        }
        Accuracy::Share(share) => format!("accurate to ± {:.0} % of the reading", 100.0 * share),
        Accuracy::Grade(grade) => format!("of grade {}", grade.name),
    }
}

/// A gauge in words: what it is, how well it reads, and when it was compared last.
fn described(gauge: &Gauge, units: Units) -> String {
    let amount = |si: f64| show_briefly(change_of(gauge), &Uncertain::exact(si), units);
    let mut parts = vec![gauge.name.to_string()];
    parts.extend(gauge.serial.as_ref().map(|serial| format!("serial {serial}")));
    parts.push(accuracy(gauge, units));
    parts.extend(gauge.span.map(|span| format!("up to {}", amount(span))));
    if gauge.division > 0.0 {
        let word = if gauge.reads == Reads::Digital { "steps of" } else { "marks every" };
        parts.push(format!("{word} {}", amount(gauge.division)));
    }
    parts.extend(gauge.compared.as_ref().map(|compared| format!("compared {compared}")));
    capitalized(&parts.join("; "))
}

/// The measure in which a gauge's limits of error are told.
fn change_of(gauge: &Gauge) -> Measure {
    let measure = Measure::all().find(|measure| measure.family() == gauge.family);
    measure.map_or(Measure::Number, Measure::difference)
}
