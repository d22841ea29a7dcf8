//! The answers that tell what was found, done or left, a row for each.

use std::collections::BTreeMap;

use super::RunView;
use crate::procedure::{LoopKind, Observable};
use crate::record::{Entry, Phase};
use crate::report::Row;
use crate::report::answers::in_a_row;
use crate::report::steps::PlacedStep;
use crate::words::{capitalized, counted};

/// What was told of one thing in one phase of the work.
pub(super) struct PhaseRow {
    pub observable: Option<&'static Observable>,
    /// It was worked out.
    pub computed: bool,
    pub tank: Option<String>,
    /// A label and the answer.
    pub row: Row,
}

impl<'a> RunView<'a> {
    /// The answers that tell of one thing, in the order of the procedure, one row for each tank.
    pub(in crate::report) fn telling(&self, tells: Phase) -> Vec<Row> {
        self.phase_rows_as(tells, with_gauge).into_iter().map(|shown| shown.row).collect()
    }

    /// What was told of one thing, in a line for each tank.
    pub(in crate::report) fn shown_by_tank(&self, tells: Phase) -> Vec<String> {
        let mut lines: Vec<(Option<String>, Vec<String>)> = Vec::new();
        for PhaseRow { tank, row, .. } in self.phase_rows(tells) {
            let called =
                tank.as_ref().map(|tank| format!(", {}", self.steps.called(tank))).unwrap_or_default();
            let [label, answer] = [0, 1].map(|at| row.cells.get(at).map_or("", String::as_str));
            let words = format!("{} {answer}", label.strip_suffix(&called).unwrap_or(label));
            match lines.iter_mut().find(|(of, _)| *of == tank) {
                Some((_, all)) => all.push(words),
                None => lines.push((tank, vec![words])),
            }
        }
        let line = |(tank, words): (Option<String>, Vec<String>)| {
            let tank = tank.map(|tank| format!("{}: ", self.steps.called(&tank))).unwrap_or_default();
            capitalized(&format!("{tank}{}", words.join("; ")))
        };
        lines.into_iter().map(line).collect()
    }

    /// The same without the gauges, each row with what it is of.
    pub(super) fn phase_rows(&self, tells: Phase) -> Vec<PhaseRow> {
        self.phase_rows_as(tells, |_, text| text)
    }

    fn phase_rows_as(&self, tells: Phase, dress: fn(&[&Entry], String) -> String) -> Vec<PhaseRow> {
        self.steps.telling(tells).flat_map(|placed| self.rows_of(placed, dress)).collect()
    }

    fn rows_of(&self, placed: &PlacedStep<'a>, dress: fn(&[&Entry], String) -> String) -> Vec<PhaseRow> {
        let label = placed.step.name();
        let named = |tank: Option<String>| match tank {
            Some(tank) => format!("{label}, {}", self.steps.called(&tank)),
            None => label.clone(),
        };
        if placed.step.course().comes_round().is_some_and(|(which, _)| which == LoopKind::Repeat) {
            let row = |(tank, most): (Option<String>, u32)| {
                let row = Row::new([named(tank.clone()), counted(most as usize, "round")]);
                PhaseRow { observable: None, computed: false, tank, row }
            };
            return self.rounds(placed).into_iter().map(row).collect();
        }
        let mut tanks: Vec<(Option<String>, Vec<&Entry>)> = Vec::new();
        let tells = |entry: &&Entry| {
            *entry.step == *placed.step.id && !entry.kind.is_aside() && !entry.kind.is_beginning()
        };
        for entry in self.entries.iter().copied().filter(tells) {
            let tank = self.steps.tank(entry);
            match tanks.iter_mut().find(|(of, _)| *of == tank) {
                Some((_, entries)) => entries.push(entry),
                None => tanks.push((tank, vec![entry])),
            }
        }
        let row = |(tank, entries): (Option<String>, Vec<&Entry>)| {
            let row = Row::new([named(tank.clone()), dress(&entries, value(placed, &entries))]);
            let computed = placed.step.course().computes().is_some();
            PhaseRow { observable: placed.step.observes, computed, tank, row }
        };
        tanks.into_iter().map(row).collect()
    }

    /// How many rounds of a loop were walked, for each tank.
    fn rounds(&self, placed: &PlacedStep<'a>) -> BTreeMap<Option<String>, u32> {
        let depth = placed.around.len();
        let mut rounds = BTreeMap::new();
        for entry in &self.entries {
            let inside = placed.step.body().iter().any(|step| *step.id == *entry.step);
            if let (true, Some(round)) = (inside, entry.round.get(depth)) {
                let most: &mut u32 = rounds.entry(self.steps.tank(entry)).or_default();
                *most = (*most).max(*round);
            }
        }
        rounds
    }
}

/// Several answers as one cell: of rounds with several readings each, the last round's.
fn value(placed: &PlacedStep<'_>, entries: &[&Entry]) -> String {
    let last_round = entries.last().map(|entry| entry.round.clone()).unwrap_or_default();
    let takes = entries.iter().any(|entry| entry.take.is_some());
    let shown: Vec<&Entry> =
        entries.iter().copied().filter(|entry| !takes || entry.round == last_round).collect();
    let one = match shown.as_slice() {
        [one] => placed.step.course().asks().and_then(|asks| asks.message(one)),
        _ => None,
    };
    one.unwrap_or_else(|| in_a_row(&shown))
}

/// What was told, with the gauge of the last reading.
fn with_gauge(entries: &[&Entry], text: String) -> String {
    let gauge = entries.last().and_then(|entry| entry.gauge.as_ref());
    match (gauge, text.strip_suffix(')')) {
        (Some(gauge), Some(text)) => format!("{text}; gauge: {gauge})"),
        (Some(gauge), None) => format!("{text} (gauge: {gauge})"),
        (None, _) => text,
    }
}
