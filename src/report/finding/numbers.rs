//! The numbers of a finding sheet: as found, as left, and what they are held against.

use crate::procedure::{OBSERVABLES, Observable, Observed};
use crate::quantity::{SourceId, Uncertain, Unit, show_in_with_limits, show_roundly, unit};
use crate::record::{Entry, EntryKind, Phase, observed, temperature_at};
use crate::report::Row;
use crate::report::answers::{answer, plainly};
use crate::report::run_view::RunView;
use crate::words::capitalized;

/// What stands where nothing was read.
const NOT_READ: &str = "not measured";

/// What the work may have changed, one row for each thing and tank; all of a row in one unit.
pub(in crate::report) fn number_rows(run: &RunView<'_>) -> Vec<Row> {
    let tanks = run.tanks_in_turn();
    let row = |known: &'static Observable| tanks.iter().filter_map(move |tank| of_tank(run, known, *tank));
    OBSERVABLES.iter().filter(|known| known.lasting).flat_map(row).collect()
}

fn of_tank(run: &RunView<'_>, known: &'static Observable, tank: Option<&str>) -> Option<Row> {
    let entries = run.entries_about(tank);
    let seen_at = |name, phase| observed(&entries, name, Some(phase));
    let found = seen_at(known.name, Phase::Found);
    let left = seen_at(known.name, Phase::Left).or_else(|| seen_at(known.name, Phase::Done));
    let any = left.or(found)?;
    if tank.is_some() && [found, left].iter().flatten().all(|entry| entry.tank.is_none()) {
        return (run.contents.header.tanks.first().map(String::as_str) == tank)
            .then(|| row_of_all(run, known))
            .flatten();
    }
    let shown = RowUnit { known, unit: any.unit.as_deref().and_then(unit) };
    let cell = |entry: Option<&Entry>| entry.map_or_else(|| NOT_READ.to_string(), |entry| shown.cell(entry));
    let called = tank.filter(|_| run.contents.header.tanks.len() > 1).map(|tank| run.steps.called(tank));
    let head = shown.head(called.as_deref(), &circumstance(&entries, known, any));
    let against = shown.against(&entries).or_else(|| shown.limit(run, any)).unwrap_or_default();
    Some(Row::new([head, cell(found), cell(left), against]))
}

/// What was read of all tanks together stands once.
fn row_of_all(run: &RunView<'_>, known: &'static Observable) -> Option<Row> {
    let mut row = of_tank(run, known, None)?;
    row.cells[0] = row.cells[0].replacen(known.term, &format!("{}, all tanks", known.term), 1);
    Some(row)
}

/// Without what a number would tell little: the temperature of a precharge, the time in which pressure was lost.
fn circumstance(entries: &[&Entry], known: &Observable, entry: &Entry) -> String {
    match known.name {
        "precharge" => temperature_at(entries, entry).map(|at| format!(", {}", plainly(at))),
        "pressure_lost" => rest_before(entries, entry).map(|rest| format!(" in {}", answer(rest))),
        _ => None,
    }
    .unwrap_or_default()
}

/// The rest that ended before a value was worked out.
fn rest_before<'e>(entries: &[&'e Entry], entry: &Entry) -> Option<&'e Entry> {
    let is_rest = |it: &&&Entry| it.kind == EntryKind::Waited && it.n < entry.n;
    entries.iter().filter(is_rest).rfind(|it| it.observes.as_deref() == Some("rest_time")).copied()
}

/// One thing, in the unit its row is told in.
struct RowUnit {
    known: &'static Observable,
    unit: Option<&'static Unit>,
}

impl RowUnit {
    /// What it is, of which tank, in which circumstances, in which unit.
    fn head(&self, tank: Option<&str>, circumstance: &str) -> String {
        let parts = [
            Some(self.known.term.to_string()),
            tank.map(|tank| format!(", {tank}")),
            Some(circumstance.to_string()),
            self.unit.map(|unit| format!(", {}", unit.symbol)),
        ];
        capitalized(&parts.into_iter().flatten().collect::<String>())
    }

    /// An answer without its unit, which stands at the head of the row.
    fn cell(&self, entry: &Entry) -> String {
        let (Observed::Number(measure), Some(row_unit)) = (self.known.observed, self.unit) else {
            return answer(entry);
        };
        let Some((value, read_in)) = entry.value.zip(entry.unit.as_deref().and_then(unit)) else {
            return answer(entry);
        };
        let u = entry.uncertainty.filter(|u| u.is_finite()).unwrap_or(0.0) * read_in.size;
        let amount = Uncertain::exact(read_in.to_si(measure, value)).with_component(SourceId::Reading(1), u);
        let shown = show_in_with_limits(measure, &amount, row_unit);
        shown.strip_suffix(&format!(" {}", row_unit.symbol)).unwrap_or(&shown).to_string()
    }

    /// What it is held against: the first that the record tells of.
    fn against(&self, entries: &[&Entry]) -> Option<String> {
        let of_entry = |(name, word): &(&str, &str)| {
            let entry = match *name == self.known.name {
                true => entries.iter().copied().find(|entry| {
                    entry.kind == EntryKind::Fact && entry.observes.as_deref() == Some(*name)
                })?,
                false => observed(entries, name, None)?,
            };
            entry.value?;
            Some(format!("{word} {}", self.cell(entry)))
        };
        self.known.against.iter().find_map(of_entry)
    }

    /// What a check of the procedure lets it be at most.
    fn limit(&self, run: &RunView<'_>, entry: &Entry) -> Option<String> {
        let (Observed::Number(measure), Some(unit)) = (self.known.observed, self.unit) else { return None };
        let limit = Uncertain::exact(run.steps.limit(&entry.step)?);
        let shown = show_roundly(measure, &limit, run.contents.header.units);
        Some(format!("at most: {}", shown.strip_suffix(&format!(" {}", unit.symbol)).unwrap_or(&shown)))
    }
}
