//! What earlier records of a tank have to offer as answers.

use super::home::Home;
use crate::engine::Past;
use crate::procedure::{Procedure, Step};
use crate::quantity::show_number;
use crate::record::{Contents, Entry, effective, list, read};
use crate::system::System;

/// What the procedure's steps recall of the system's tanks, from the newest closed record that has
/// it. Records that cannot be read are passed over: they offer nothing. Of those of other tanks a
/// glance suffices, and once everything is found no more are read.
pub(super) fn past(procedure: &Procedure, system: &System, home: &Home) -> Past {
    let mut wanted = Vec::new();
    recalled(&procedure.steps, &mut wanted);
    let mut past = Past::default();
    if wanted.is_empty() {
        return past;
    }
    let tanks: Vec<&str> = system.tanks.iter().map(|tank| tank.id.as_ref()).collect();
    let is_known = |name: &String| tanks.contains(&name.as_str());
    let glances = list(&home.records()).unwrap_or_default().into_iter().flatten();
    for glance in glances.filter(|glance| glance.outcome.is_some()) {
        if !glance.tanks.is_empty() && !glance.tanks.iter().any(is_known) {
            continue;
        }
        let known = |tank: &&str| wanted.iter().all(|step| past.get(Some(tank), step).is_some());
        if !tanks.is_empty() && tanks.iter().all(known) {
            break;
        }
        if let Ok(contents) = read(&glance.path) {
            note(&contents, &wanted, &mut past);
        }
    }
    past
}

fn recalled<'p>(steps: &'p [Step], wanted: &mut Vec<&'p str>) {
    for step in steps {
        wanted.extend(step.course().gives().and_then(|gives| gives.recall));
        recalled(step.body(), wanted);
    }
}

/// Notes what a record has; its last answer to a step counts.
fn note(contents: &Contents, wanted: &[&str], past: &mut Past) {
    let entries: Vec<&Entry> = effective(&contents.entries).collect();
    for entry in entries.into_iter().rev() {
        if wanted.contains(&entry.step.as_str())
            && let Some(typed) = typed(entry)
        {
            let tank = entry.tank.as_deref().or(contents.header.tank.as_deref());
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
