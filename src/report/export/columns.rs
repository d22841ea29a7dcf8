//! The one table of columns: name, unit, meaning, and where each comes from.

use std::borrow::Cow;

use serde::Serialize;

use super::line::ExportLine;
use super::questions::QUESTIONS;
use crate::clock::Moment;
use crate::quantity::{Measure, Verdict};
use crate::record::{ForNow, Grade, Phase, Provenance};
use crate::report::wording::outcome_word;
use crate::report::{Page, Row};

/// What a line tells under one name.
pub(super) struct Column {
    /// The name, also the key in JSON Lines.
    pub name: &'static str,
    /// What stands there: `text`, `number`, `whole number`, `yes or no`, `time`.
    pub holds: &'static str,
    /// What it tells.
    pub means: &'static str,
    pub cell: for<'a> fn(&'a ExportLine<'a>) -> Cell<'a>,
}

/// What stands in one place of a line.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub(super) enum Cell<'a> {
    Nothing,
    Text(Cow<'a, str>),
    Number(f64),
    Whole(i64),
    Yes(bool),
    List(&'a [u32]),
    Texts(&'a [String]),
}

fn text<'a>(text: Option<impl Into<Cow<'a, str>>>) -> Cell<'a> {
    text.map_or(Cell::Nothing, |text| Cell::Text(text.into()))
}

fn number(number: Option<f64>) -> Cell<'static> {
    number.map_or(Cell::Nothing, Cell::Number)
}

fn whole(count: Option<u64>) -> Cell<'static> {
    count.and_then(|count| i64::try_from(count).ok()).map_or(Cell::Nothing, Cell::Whole)
}

const fn column(
    name: &'static str,
    holds: &'static str,
    means: &'static str,
    cell: for<'a> fn(&'a ExportLine<'a>) -> Cell<'a>,
) -> Column {
    Column { name, holds, means, cell }
}

/// Every column, in order.
pub(super) static COLUMNS: &[Column] = &[
    column("record", "text", "the record's id", |l| text(Some(l.run.contents.header.id.as_str()))),
    column("procedure", "text", "the procedure's name", |l| {
        text(Some(l.run.contents.header.procedure.as_str()))
    }),
    column("site", "text", "the installation", |l| text(l.run.contents.header.site.as_deref())),
    column("tank", "text", "the tank's id; in steps done for each tank that one's", |l| text(l.tank())),
    column("invented", "yes or no", "a demonstration: installation and readings are made up", |l| {
        Cell::Yes(l.run.contents.header.demo)
    }),
    column("started", "time", "when the run began: RFC 3339, with the offset from UTC", |l| {
        text(Some(l.started))
    }),
    column("transcribed", "time", "when it was typed in from a sheet; empty when recorded as it went", |l| {
        text(l.run.contents.header.transcribed.map(|at| at.to_string()))
    }),
    column("outcome", "text", "how the run ended: completed, failed, stopped early or not ended", |l| {
        text(Some(outcome_word(l.run.contents.summary.as_ref().map(|end| end.outcome))))
    }),
    column(
        "worst",
        "text",
        "the worst grade of what was found in the record: good, note, attention, act or stop",
        |l| text(l.run.contents.summary.as_ref().and_then(|end| end.grade).map(Grade::word)),
    ),
    column("n", "whole number", "the entry's number in the record, from 1", |l| whole(Some(l.entry.n))),
    column(
        "counts",
        "yes or no",
        "no when it was amended or taken back, or follows from one that was",
        |l| Cell::Yes(l.seen.counts),
    ),
    column("struck_by", "whole number", "the number of the entry that amended it or took it back", |l| {
        whole(l.seen.struck_by)
    }),
    column("replaces", "whole number", "the number of the entry that this one amends or takes back", |l| {
        whole(l.entry.replaces)
    }),
    column("kind", "text", "what it tells of: reading, computed, checked and so on", |l| {
        text(Some(l.entry.kind.word()))
    }),
    column("step", "text", "the step's id in the procedure", |l| text(Some(l.entry.step.as_str()))),
    column("label", "text", "what reports call it", |l| text(Some(l.run.steps.label(&l.entry.step)))),
    column("observes", "text", "what it is of: a name of the table of observables", |l| {
        text(l.entry.observes.as_deref())
    }),
    column("phase", "text", "of which phase it tells: before (an earlier visit), found, done or left", |l| {
        text(l.entry.phase.map(Phase::word))
    }),
    column("round", "whole numbers", "the round of each loop around the step, outermost first", |l| {
        if l.entry.round.is_empty() { Cell::Nothing } else { Cell::List(&l.entry.round) }
    }),
    column("take", "whole number", "which of several readings at one step, from 1", |l| {
        whole(l.entry.take.map(u64::from))
    }),
    column("at", "time", "when: RFC 3339, with the offset from UTC", |l| text(Some(l.entry.at.to_string()))),
    column("utc_offset_min", "whole number", "that offset in minutes, for programs that drop it", |l| {
        Cell::Whole(i64::from(l.entry.at.offset_minutes()))
    }),
    column("measure", "text", "what the number is: pressure is above the air around, as gauges show", |l| {
        text(l.measure.map(Measure::name))
    }),
    column("value", "number", "the number in the unit it was given in", |l| number(l.entry.value)),
    column("unit", "text", "that unit; empty for plain numbers", |l| text(l.entry.unit.as_deref())),
    column(
        "uncertainty",
        "number",
        "standard uncertainty of the value, in its unit; wider where few readings tell it, so that twice it holds 95 %",
        |l| number(l.entry.uncertainty),
    ),
    column("si_value", "number", "the number in SI units", |l| number(l.si_value())),
    column("si_unit", "text", "that unit: Pa, K, m3, m3/s, m, kg, W, s, m3/m3, kg/m3 or 1", |l| {
        text(l.si_unit())
    }),
    column("si_uncertainty", "number", "standard uncertainty in the SI unit", |l| number(l.si_uncertainty())),
    column("gauge", "text", "the gauge it was read from", |l| text(l.entry.gauge.as_deref())),
    column(
        "provenance",
        "text",
        "measured, chosen, told, recalled or assumed; of what was worked out the least trusted of what went in",
        |l| text(l.entry.provenance.map(Provenance::word)),
    ),
    column("verdict", "text", "of a check: pass, fail or can't tell", |l| {
        text(l.entry.verdict.map(Verdict::word))
    }),
    column("p_least", "number", "of a check: the least probability that it holds", |l| {
        number(l.entry.truth.map(|truth| truth.least))
    }),
    column("p_most", "number", "of a check: the greatest probability that it holds", |l| {
        number(l.entry.truth.map(|truth| truth.most))
    }),
    column("asked", "text", "the question, or what was checked", |l| text(l.entry.asked.as_deref())),
    column("given", "text", "the answer as it was typed", |l| text(l.entry.given.as_deref())),
    column("reason", "text", "why it was left out or is not known; the words of a remark", |l| {
        text(l.entry.reason.as_deref())
    }),
    column("said", "text", "what the program told the person", |l| text(l.entry.said.as_deref())),
    column("grade", "text", "of a finding: good, note, attention, act or stop", |l| {
        text(l.entry.grade.map(Grade::word))
    }),
    column("finding", "text", "of a finding: what it is called", |l| {
        text(l.entry.given.as_deref().filter(|_| l.entry.grade.is_some()))
    }),
    column("next", "text", "of a finding: what to do next", |l| text(l.entry.next.as_deref())),
    column(
        "for_now",
        "text",
        "of a finding: what to do for now about the tank: accept, leave, set or see-to",
        |l| text(l.entry.for_now.map(ForNow::word)),
    ),
    column("due", "day", "of a finding: the day by which", |l| text(l.entry.due.map(Moment::date))),
    column("rests_on", "texts", "of a finding: the steps it rests on", |l| {
        match l.entry.rests_on.as_slice() {
            [] => Cell::Nothing,
            steps => Cell::Texts(steps),
        }
    }),
];

/// The columns on a page, with what else a reader of an export must know.
///
/// ```
/// use tankhand::report::{columns_page, to_text};
/// assert_eq!(to_text(&columns_page(), 80)[0], "The columns of an export");
/// ```
pub fn columns_page() -> Page {
    let mut page = Page::titled("The columns of an export");
    page.text(
        "tankhand records export writes one line for each entry of a record: as CSV (RFC 4180, UTF-8, with a \
         line of names), as JSON Lines, one object a line with the same names, or as SQL, which makes a table `entries` \
         with typed columns (`sqlite3 well.db < entries.sql`). An empty cell, or null, has \
         nothing to tell. Records come in the order of their names; of each only what its seals vouch for.",
    );
    let row = |column: &Column| Row::new([column.name, column.holds, column.means]);
    page.table(&["Column", "Holds", "Meaning"], COLUMNS.iter().map(row));
    page.texts([
        "Amended answers stay in, marked: keep the lines where counts is 1 (true in JSON Lines) before you work anything out. \
         Where a record keeps a procedure that this version no longer takes, labels are the steps' ids, and \
         measure is empty where the unit can mean two things (a temperature or a difference of two).",
        "Only in CSV: a text that begins with = + - @ ' or a tab gets a ' in front, so that no spreadsheet takes it \
         for a formula; take one ' away to have the text. In CSV and SQL yes and no are 1 and 0, rounds \
         are written [1, 2], steps stand with a space between them, and characters that could command a terminal \
         show as U+FFFD. JSON Lines holds every text as it is, yes and no as true and false, and rounds and steps as \
         lists. A plain `.import --csv` makes every column text, so that 9 comes after 100: for SQLite take SQL.",
    ]);
    for (question, sql) in QUESTIONS {
        page.text(*question);
        page.listing(*sql);
    }
    page
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_column_has_its_own_name_and_tells_what_it_is() {
        let mut names = std::collections::BTreeSet::new();
        for column in COLUMNS {
            let plain = |c: char| c.is_ascii_lowercase() || c == '_';
            assert!(column.name.chars().all(plain) && names.insert(column.name), "{}", column.name);
            assert!(!column.holds.is_empty() && !column.means.is_empty(), "{}", column.name);
        }
    }
}
