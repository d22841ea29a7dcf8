//! `without`: a need that the shipped step has and an owner's step leaves out, with the reason.

use std::sync::Arc;

use super::keys::{WAIVER_KEYS, names};
use crate::document::Fields;
use crate::source::Quoted;

/// A need that a step of an owner's file leaves out, with the reason that is told wherever the run is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiver {
    /// The state that the shipped step needs.
    pub need: Arc<str>,
    /// Why it is left out.
    pub because: String,
}

/// A need that a step leaves out, unchecked.
#[derive(Clone, Debug)]
pub(super) struct DraftWaiver {
    pub need: Quoted,
    pub because: Quoted,
}

/// Drafts `without = { need = "drained", because = "…" }`, or a list of such.
pub(super) fn draft(fields: &Fields<'_>) -> Vec<DraftWaiver> {
    waivers(fields).iter().filter_map(waiver).collect()
}

/// Its tables: one, or a list of such.
pub(super) fn waivers<'a>(fields: &Fields<'a>) -> Vec<Fields<'a>> {
    match fields.is_table("without") {
        true => fields.table("without").into_iter().collect(),
        false => fields.tables("without"),
    }
}

fn waiver(table: &Fields<'_>) -> Option<DraftWaiver> {
    table.only(&names(WAIVER_KEYS));
    let need = table.needed_text("need", "the state that is not needed here");
    let because = table.needed_text("because", "why not, in a sentence; every run and report says it")?;
    if because.text.trim().chars().count() < 10 {
        let why = "It stands in the record and in the report, for whoever relies on them.";
        let remedy = "write in a sentence why the step can go without it";
        let fault = because.fault("no-reason", "this is no reason").why(why);
        return table.walk().none(fault.remedy(remedy));
    }
    Some(DraftWaiver { need: need?, because })
}
