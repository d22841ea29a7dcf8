//! What was read and seen in a run, under what it is of.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::physics::diagnosis::{Claims, Evidence};
use crate::quantity::Measure;
use crate::record::{Phase, Provenance};

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
pub(super) enum ObservedValue {
    /// A number of a measure, SI.
    Number(Measure, f64),
    /// A word; `yes` or `no` where that was the question.
    Word(Arc<str>),
    /// It was done.
    Deed,
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
    pub seen: ObservedValue,
    pub provenance: Provenance,
    /// The states that held.
    pub states: BTreeSet<Arc<str>>,
}

impl Observation {
    /// The number, SI, with its measure.
    pub(super) fn number(&self) -> Option<(Measure, f64)> {
        match self.seen {
            ObservedValue::Number(measure, si) => Some((measure, si)),
            ObservedValue::Word(_) | ObservedValue::Deed => None,
        }
    }

    /// The number, SI.
    pub(super) fn si(&self) -> Option<f64> {
        self.number().map(|(_, si)| si)
    }

    /// The word.
    pub(super) fn word(&self) -> Option<&str> {
        match &self.seen {
            ObservedValue::Word(word) => Some(word),
            ObservedValue::Number(..) | ObservedValue::Deed => None,
        }
    }

    /// Whether a step asked for it.
    pub(super) fn is_read(&self) -> bool {
        self.origin == Origin::Step
    }

    /// Whether a state held then.
    pub(super) fn during(&self, state: &str) -> bool {
        self.states.contains(state)
    }
}

/// What a diagnosis that was made known went by, for a person who asks what speaks for it.
#[derive(Clone, Debug)]
pub(super) struct Diagnosed {
    /// What it went by.
    pub evidence: Evidence,
    /// What the procedure set out to test.
    pub claims: Claims,
}
