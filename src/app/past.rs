//! What earlier records of a tank have to offer as answers.

use std::collections::BTreeMap;

use super::{Home, Result};
use crate::clock::Moment;
use crate::engine::{EarlierAnswers, EarlierVisit};
use crate::procedure::Procedure;
use crate::quantity::{Measure, show_number};
use crate::record::{
    Contents, Entry, FolderAccount, Phase, RecordList, effective_entries, list, observed, read, recalled,
    si_of, temperature_at,
};
use crate::system::System;

/// What the procedure's steps recall of the system's tanks, from the newest closed record that tells
/// of it; and what became of the files looked at: records that cannot be understood offer nothing. Of those of
/// other tanks a glance suffices, and once everything is found no more are read.
///
/// # Errors
/// When the folder cannot be read.
pub(super) fn past(
    procedure: &Procedure,
    system: &System,
    home: &Home,
) -> Result<(EarlierAnswers, FolderAccount)> {
    let offered: Vec<&str> = procedure.all_steps().filter_map(|step| step.course().gives()?.recall).collect();
    let mut past = EarlierAnswers::default();
    let diagnosed = procedure.all_steps().any(|step| step.course().is_diagnosis());
    if offered.is_empty() && !diagnosed {
        return Ok((past, FolderAccount::default()));
    }
    let tanks: Vec<&str> = system.tanks.iter().map(|tank| tank.id.as_ref()).collect();
    let is_known = |name: &String| tanks.contains(&name.as_str());
    let RecordList { records, mut account } = list(&home.records())?;
    for glance in records.into_iter().filter(|glance| glance.outcome.is_some()) {
        if !glance.tanks.is_empty() && !glance.tanks.iter().any(is_known) {
            continue;
        }
        let known = |tank: &&str| offered.iter().all(|observable| past.get(Some(tank), observable).is_some());
        if !diagnosed && !tanks.is_empty() && tanks.iter().all(known) {
            break;
        }
        match read(&glance.path) {
            Ok(Contents { header, entries, .. }) => {
                note(&entries, (header.tank.as_deref(), header.started), &offered, &mut past);
            }
            Err(fault) => account.retract(Some(fault)),
        }
    }
    if offered.contains(&"precharge") {
        note_file(system, &mut past);
    }
    Ok((past, account))
}

/// Notes the precharge that the system file keeps of a tank; one that a record tells stays.
fn note_file(system: &System, past: &mut EarlierAnswers) {
    for (at, tank) in system.tanks.iter().enumerate() {
        if let Some(kept) = system.value("tank.precharge", at) {
            past.note(Some(&tank.id), "precharge", kept.shown(system.units.unwrap_or_default()));
        }
    }
}

/// The entries that count of each tank of a record, which as a whole is of `tank`.
pub(super) fn by_tank<'e>(
    entries: &'e [Entry],
    tank: Option<&'e str>,
) -> BTreeMap<Option<&'e str>, Vec<&'e Entry>> {
    let mut of_tank: BTreeMap<_, Vec<&Entry>> = BTreeMap::new();
    for entry in effective_entries(entries) {
        of_tank.entry(entry.tank.as_deref().or(tank)).or_default().push(entry);
    }
    of_tank
}

/// Notes what a record tells of each of its tanks.
fn note(
    entries: &[Entry],
    (tank, started): (Option<&str>, Moment),
    offered: &[&str],
    past: &mut EarlierAnswers,
) {
    for (tank, entries) in by_tank(entries, tank) {
        for observable in offered {
            if let Some(typed) = recalled(&entries, observable).and_then(typed) {
                past.note(tank, observable, typed);
            }
        }
        if let Some(visit) = visit(&entries, started) {
            past.note_visit(tank, visit);
        }
    }
}

/// The precharge that a record tells of; nothing where it tells of none, or of another tank since.
fn visit(entries: &[&Entry], at: Moment) -> Option<EarlierVisit> {
    let seen = |phase| observed(entries, "precharge", Some(phase));
    let (found, left) = (seen(Phase::Found), seen(Phase::Left));
    let temperature = temperature_at(entries, found.or(left)?).and_then(|it| si_of(it, Measure::Temperature));
    let [found, left] = [found, left].map(|entry| si_of(entry?, Measure::Pressure));
    let new_tank = observed(entries, "tank_replaced", None).is_some();
    Some(EarlierVisit { at, found, left, temperature, new_tank })
}

/// The value of an entry as a person would type it.
pub(super) fn typed(entry: &Entry) -> Option<String> {
    let number = show_number(entry.value?, entry.uncertainty.unwrap_or(0.0));
    Some(match &entry.unit {
        Some(unit) => format!("{number} {unit}"),
        None => number,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::EntryKind;

    fn entry(n: u64, kind: EntryKind, (observable, phase): (&str, Phase), value: Option<f64>) -> Entry {
        let at = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
        let unit = value.map(|_| "psi".to_string());
        let (observes, phase) = (Some(observable.to_string()), Some(phase));
        Entry { n, value, unit, observes, phase, ..Entry::new(kind, observable, at) }
    }

    fn offered(entries: &[Entry]) -> [Option<String>; 3] {
        const OFFERED: [&str; 3] = ["cut_in", "precharge", "tank_temperature"];
        let mut past = EarlierAnswers::default();
        let started = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
        note(entries, (Some("main"), started), &OFFERED, &mut past);
        OFFERED.map(|name| past.get(Some("main"), name).map(ToString::to_string))
    }

    /// The cut-in was typed wrongly, the precharge worked out from it, and the answer withdrawn.
    #[test]
    fn what_was_worked_out_from_a_withdrawn_answer_is_not_offered() {
        let (cut_in, precharge) = (("cut_in", Phase::Found), ("precharge", Phase::Left));
        let mut entries = vec![
            entry(1, EntryKind::Reading, cut_in, Some(60.0)),
            entry(2, EntryKind::Computed, precharge, Some(58.0)),
            Entry { replaces: Some(1), ..entry(3, EntryKind::Withdrawn, cut_in, None) },
        ];
        assert_eq!(offered(&entries), [None, None, None]);
        entries.push(entry(4, EntryKind::Reading, cut_in, Some(40.0)));
        entries.push(entry(5, EntryKind::Computed, precharge, Some(38.0)));
        assert_eq!(offered(&entries), [Some("40 psi".to_string()), Some("38 psi".to_string()), None]);
    }

    /// As it was left goes before as it was found, the mean before its readings; what was remembered of
    /// an earlier visit is not this one's; the temperature is that of the precharge.
    #[test]
    fn what_is_offered_is_how_the_tank_was_left() {
        use EntryKind::{Computed, Reading};
        let (found, left) = (("precharge", Phase::Found), ("precharge", Phase::Left));
        let at = |phase| ("tank_temperature", phase);
        let entries = [
            entry(1, Reading, at(Phase::Found), Some(50.0)),
            entry(2, Computed, found, Some(27.0)),
            entry(3, Reading, at(Phase::Before), Some(70.0)),
            entry(4, Reading, left, Some(37.5)),
            entry(5, Computed, left, Some(38.0)),
            entry(6, Reading, left, Some(39.0)),
            entry(7, Reading, at(Phase::Left), Some(54.0)),
            entry(8, Reading, ("precharge", Phase::Before), Some(36.0)),
        ];
        let kept = |texts: [&str; 2]| [None, Some(texts[0].to_string()), Some(texts[1].to_string())];
        assert_eq!(offered(&entries), kept(["38 psi", "50 psi"]));
        assert_eq!(offered(&entries[..3]), kept(["27 psi", "50 psi"]));
        assert_eq!(offered(&entries[7..]), [None, None, None]);
    }
}
