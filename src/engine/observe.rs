//! Noting what an answer is of.

use std::sync::Arc;

use super::observations::{Observation, ObservedValue, Origin};
use super::run::Run;
use crate::lang::Value;
use crate::record::{Entry, EntryKind, Provenance};

impl Run {
    /// Notes a value, or that something was done, under what it is of, as an entry tells of it. A wait that has only
    /// begun tells nothing.
    pub(super) fn observe(&mut self, value: Option<&Value>, entry: &Entry) {
        let Some(observable) = self.observable().filter(|_| entry.kind != EntryKind::WaitBegun) else {
            return;
        };
        let seen = match value {
            None if entry.kind == EntryKind::Done => ObservedValue::Deed,
            Some(Value::Amount(measure, amount)) => ObservedValue::Number(*measure, amount.value()),
            Some(Value::Text(word)) => ObservedValue::Word(Arc::from(&**word)),
            Some(Value::Truth(truth)) => {
                ObservedValue::Word(Arc::from(if truth.best { "yes" } else { "no" }))
            }
            Some(Value::Series(_)) | None => return,
        };
        let origin = if entry.kind == EntryKind::Fact {
            Origin::Fact
        } else if entry.kind == EntryKind::Computed {
            Origin::Computed
        } else {
            Origin::Step
        };
        self.state.observations.push(Observation {
            observable: observable.name,
            step: Arc::from(entry.step.as_str()),
            origin,
            tells: self.tells(),
            tank: self.state.frames.tank(),
            seen,
            provenance: entry.provenance.unwrap_or(Provenance::Measured),
            states: self.state.holding.all().clone(),
        });
    }
}
