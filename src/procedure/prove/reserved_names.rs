//! Names that the program makes itself must not be those of the file.
//!
//! A step without an id gets one from its verb and place, and a reading with `at_from_clock` a
//! second name for its time. Two things under one name would overwrite each other in a run.

use std::borrow::Cow;

use rustc_hash::FxHashSet;

use crate::procedure::model::Procedure;
use crate::procedure::step::Step;
use crate::source::Fault;

/// Faults for names that stand for two things.
pub(super) fn reserved_names(procedure: &Procedure) -> Vec<Fault> {
    let mut reserved: FxHashSet<Cow<'_, str>> =
        procedure.facts.iter().map(|fact| Cow::from(&*fact.id)).collect();
    let mut faults = Vec::new();
    for step in procedure.all_steps() {
        for name in step.names() {
            if reserved.contains(&name) {
                faults.push(fault(step, &name));
            }
            reserved.insert(name);
        }
    }
    faults
}

fn fault(step: &Step, name: &str) -> Fault {
    step.place().fault("same-id", format!("the name `{name}` stands for two things"))
        .why("A step without an id is named after its verb and place, and the time of a reading after the reading, with `_at`.")
        .remedy("give this step an id of its own, or change the other one")
}
