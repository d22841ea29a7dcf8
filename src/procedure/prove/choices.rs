//! The words that names may be, for names that are one of several.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use crate::procedure::model::Procedure;
use crate::quantity::{Kind, Words};

/// The words of every fact and answer that is one of several.
pub(super) fn choices(procedure: &Procedure) -> FxHashMap<Arc<str>, Words> {
    let facts = procedure.facts.iter().map(|fact| (&fact.id, fact.kind.clone()));
    let answers = procedure.all_steps().filter_map(|step| Some((&step.id, step.course().gives()?.kind)));
    let words = |(id, kind): (&Arc<str>, Kind)| match kind {
        Kind::OneOf(words) => Some((id.clone(), words)),
        Kind::Measure(_) | Kind::YesNo | Kind::Text => None,
    };
    facts.chain(answers).filter_map(words).collect()
}
