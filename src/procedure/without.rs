//! `without`: a need that the shipped step has and an owner's step leaves out, with the reason.

use crate::document::Fields;
use crate::source::{Fault, Quoted};

/// A need that a step leaves out, unchecked.
#[derive(Clone, Debug)]
pub(super) struct DraftWaiver {
    pub need: Quoted,
    pub because: Quoted,
}

/// Drafts `without = { need = "drained", because = "…" }`, or a list of such.
pub(super) fn draft(fields: &Fields<'_>) -> Vec<DraftWaiver> {
    if !fields.has("without") {
        return Vec::new();
    }
    let tables = match fields.is_table("without") {
        true => fields.table("without").into_iter().collect(),
        false => fields.tables("without"),
    };
    tables.iter().filter_map(waiver).collect()
}

fn waiver(table: &Fields<'_>) -> Option<DraftWaiver> {
    table.only(&["need", "because"]);
    let need = table.needed_text("need", "the state that is not needed here");
    let because = table.needed_text("because", "why not, in a sentence; every run and report says it")?;
    if because.text.trim().chars().count() < 10 {
        table.walk().fault(
            Fault::new("no-reason", &because.source, because.span, "this is no reason")
                .why("It stands in the record and in the report, for whoever relies on them.")
                .remedy("write in a sentence why the step can go without it"),
        );
        return None;
    }
    Some(DraftWaiver { need: need?, because })
}
