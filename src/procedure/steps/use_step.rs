//! `use`: the steps of a shared part stand here.

use super::{DraftAction, Verb};
use crate::procedure::draft::check_id;
use crate::source::Quoted;

/// A part to be put in place.
#[derive(Clone, Debug)]
pub(in crate::procedure) struct DraftUse {
    /// The part's name, such as `parts/drain`.
    pub name: Quoted,
    /// What its ids are led by.
    pub prefix: Option<String>,
}

pub(super) const VERB: Verb = Verb {
    word: "use",
    sentence: "the steps of a shared part stand here",
    keys: &["as"],
    draft: |fields, _, _| {
        let prefix = fields.text("as").filter(|prefix| check_id(prefix, fields.walk()));
        Some(DraftAction::Use(DraftUse { name: fields.text("use")?, prefix: prefix.map(|p| p.text) }))
    },
};
