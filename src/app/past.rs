//! What earlier records of a tank have to offer as answers.

use super::home::Home;
use crate::engine::EarlierAnswers;
use crate::procedure::Procedure;
use crate::quantity::show_number;
use crate::record::{Entry, effective_entries, list, read};
use crate::system::System;

/// What the procedure's steps recall of the system's tanks, from the newest closed record that has
/// it. Records that cannot be read are passed over: they offer nothing. Of those of other tanks a
/// glance suffices, and once everything is found no more are read.
pub(super) fn past(procedure: &Procedure, system: &System, home: &Home) -> EarlierAnswers {
    let recalled = procedure.all_steps().filter_map(|step| step.course().gives()?.recall);
    let offered: Vec<&str> = recalled.collect();
    let mut past = EarlierAnswers::default();
    if offered.is_empty() {
        return past;
    }
    let tanks: Vec<&str> = system.tanks.iter().map(|tank| tank.id.as_ref()).collect();
    let is_known = |name: &String| tanks.contains(&name.as_str());
    let glances = list(&home.records()).unwrap_or_default().into_iter().flatten();
    for glance in glances.filter(|glance| glance.outcome.is_some()) {
        if !glance.tanks.is_empty() && !glance.tanks.iter().any(is_known) {
            continue;
        }
        let known = |tank: &&str| offered.iter().all(|step| past.get(Some(tank), step).is_some());
        if !tanks.is_empty() && tanks.iter().all(known) {
            break;
        }
        if let Ok(contents) = read(&glance.path) {
            note(&contents.entries, contents.header.tank.as_deref(), &offered, &mut past);
        }
    }
    past
}

/// Notes what a record has; its last answer to a step counts.
fn note(entries: &[Entry], tank: Option<&str>, offered: &[&str], past: &mut EarlierAnswers) {
    let entries: Vec<&Entry> = effective_entries(entries).collect();
    for entry in entries.into_iter().rev() {
        if offered.contains(&entry.step.as_str())
            && let Some(typed) = typed(entry)
        {
            let tank = entry.tank.as_deref().or(tank);
            past.note(tank, &entry.step, typed);
        }
    }
}

/// The value of an entry as a person would type it.
fn typed(entry: &Entry) -> Option<String> {
    let number = show_number(entry.value?, entry.uncertainty.unwrap_or(0.0));
    Some(match &entry.unit {
        Some(unit) => format!("{number} {unit}"),
        None => number,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::Moment;
    use crate::record::EntryKind;

    fn entry(n: u64, kind: EntryKind, step: &str, value: Option<f64>) -> Entry {
        let at = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
        let unit = value.map(|_| "psi".to_string());
        Entry { n, value, unit, ..Entry::new(kind, step, at) }
    }

    /// The cut-in was typed wrongly, the charge worked out from it, and the answer withdrawn.
    #[test]
    fn what_was_worked_out_from_a_withdrawn_answer_is_not_offered() {
        let mut entries = vec![
            entry(1, EntryKind::Reading, "cut_in", Some(60.0)),
            entry(2, EntryKind::Computed, "target", Some(58.0)),
            Entry { replaces: Some(1), ..entry(3, EntryKind::Withdrawn, "cut_in", None) },
        ];
        let offered = |entries: &[Entry]| {
            let mut past = EarlierAnswers::default();
            note(entries, Some("main"), &["cut_in", "target"], &mut past);
            ["cut_in", "target"].map(|step| past.get(Some("main"), step).map(ToString::to_string))
        };
        assert_eq!(offered(&entries), [None, None]);
        entries.push(entry(4, EntryKind::Reading, "cut_in", Some(40.0)));
        entries.push(entry(5, EntryKind::Computed, "target", Some(38.0)));
        assert_eq!(offered(&entries), ["40 psi", "38 psi"].map(|text| Some(text.to_string())));
    }
}
