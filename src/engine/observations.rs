//! What was read and seen in a run, under what it is of.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::run::Run;
use crate::lang::Value;
use crate::quantity::Measure;
use crate::record::{Entry, EntryKind, Phase, Provenance};

/// Who told of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Origin {
    /// It was known before the work.
    Fact,
    /// A step asked for it.
    Step,
    /// It was worked out.
    Computed,
}

/// What was seen.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Seen {
    /// A number of a measure, SI.
    Number(Measure, f64),
    /// A word; `yes` or `no` where that was the question.
    Word(Arc<str>),
}

/// Something that was seen.
#[derive(Clone, Debug)]
pub(super) struct Observation {
    /// The observable's name.
    pub observable: &'static str,
    /// The step or fact that asked.
    pub step: Arc<str>,
    pub origin: Origin,
    /// The stage of the work.
    pub tells: Option<Phase>,
    pub tank: Option<usize>,
    pub seen: Seen,
    pub provenance: Provenance,
    /// The gauge it was read from.
    pub gauge: Option<String>,
    /// The states that held.
    pub states: BTreeSet<Arc<str>>,
}

impl Observation {
    /// The number, SI, with its measure.
    pub fn number(&self) -> Option<(Measure, f64)> {
        match self.seen {
            Seen::Number(measure, si) => Some((measure, si)),
            Seen::Word(_) => None,
        }
    }

    /// The number, SI.
    pub fn si(&self) -> Option<f64> {
        self.number().map(|(_, si)| si)
    }

    /// The word.
    pub fn word(&self) -> Option<&str> {
        match &self.seen {
            Seen::Word(word) => Some(word),
            Seen::Number(..) => None,
        }
    }

    /// Whether a state held then.
    pub fn during(&self, state: &str) -> bool {
        self.states.contains(state)
    }
}

impl Run {
    /// Notes a value under what it is of, as an entry tells of it. A wait that has only begun tells nothing.
    pub(super) fn observe(&mut self, value: &Value, entry: &Entry) {
        let Some(observable) = self.observable().filter(|_| entry.kind != EntryKind::WaitBegun) else {
            return;
        };
        let seen = match value {
            Value::Amount(measure, amount) => Seen::Number(*measure, amount.value()),
            Value::Text(word) => Seen::Word(Arc::from(&**word)),
            Value::Truth(truth) => Seen::Word(Arc::from(if truth.best { "yes" } else { "no" })),
            Value::Series(_) => return,
        };
        let origin = match entry.kind {
            EntryKind::Fact => Origin::Fact,
            EntryKind::Computed => Origin::Computed,
            _ => Origin::Step,
        };
        self.state.observations.push(Observation {
            observable: observable.name,
            step: Arc::from(entry.step.as_str()),
            origin,
            tells: self.tells(),
            tank: self.state.frames.tank(),
            seen,
            provenance: entry.provenance.unwrap_or(Provenance::Measured),
            gauge: entry.gauge.clone(),
            states: self.state.holding.clone(),
        });
    }
}
