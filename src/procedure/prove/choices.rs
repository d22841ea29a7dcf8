//! The words that names may be, for names that are one of several.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use crate::procedure::fact::Fact;
use crate::procedure::model::Procedure;
use crate::procedure::step::Step;
use crate::quantity::{Kind, Words};

/// The words of every fact and answer that is one of several.
pub(super) fn choices(procedure: &Procedure) -> FxHashMap<Arc<str>, Words> {
    let of_fact = |fact: &Fact| Some((fact.id.clone(), words_of(&fact.kind)?));
    let mut choices = procedure.facts.iter().filter_map(of_fact).collect();
    of_steps(&procedure.steps, &mut choices);
    choices
}

/// The words of a kind that is one of several.
fn words_of(kind: &Kind) -> Option<Words> {
    match kind {
        Kind::OneOf(words) => Some(words.clone()),
        Kind::Measure(_) | Kind::YesNo | Kind::Text => None,
    }
}

fn of_steps(steps: &[Step], choices: &mut FxHashMap<Arc<str>, Words>) {
    for step in steps {
        let words = step.course().gives().and_then(|gives| words_of(&gives.kind));
        choices.extend(words.map(|words| (step.id.clone(), words)));
        of_steps(step.body(), choices);
    }
}
