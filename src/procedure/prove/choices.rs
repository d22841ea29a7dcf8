//! The words that names may be, for names that are one of several.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use crate::procedure::model::{Procedure, Step};
use crate::procedure::steps::Action;
use crate::quantity::{Kind, Words};

/// The words of every fact and answer that is one of several.
pub(super) fn choices(procedure: &Procedure) -> FxHashMap<Arc<str>, Words> {
    let mut choices = FxHashMap::default();
    for fact in &procedure.facts {
        choices.extend(words_of(&fact.kind).map(|words| (fact.id.clone(), words)));
    }
    of_steps(&procedure.steps, &mut choices);
    choices
}

/// The words of a kind that is one of several.
fn words_of(kind: &Kind) -> Option<Words> {
    match kind {
        Kind::OneOf(words) => Some(words.clone()),
        _ => None,
    }
}

fn of_steps(steps: &[Step], choices: &mut FxHashMap<Arc<str>, Words>) {
    for step in steps {
        match &step.action {
            Action::Choose(choose) => {
                let words: Vec<Arc<str>> = choose.choices.iter().map(|choice| choice.value.clone()).collect();
                choices.insert(step.id.clone(), words.into());
            }
            Action::Compute(compute) => {
                choices.extend(words_of(compute.expr.ty().kind()).map(|words| (step.id.clone(), words)));
            }
            _ => of_steps(step.body(), choices),
        }
    }
}
