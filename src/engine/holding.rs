//! Which states of the installation hold now, and which were undone since.

use std::collections::BTreeSet;
use std::sync::Arc;

/// The states that hold, and those that did until a step undid them: of what no step has touched, nothing is known.
#[derive(Clone, Debug, Default)]
pub(super) struct HoldingStates {
    holding: BTreeSet<Arc<str>>,
    undone: BTreeSet<Arc<str>>,
}

impl HoldingStates {
    /// Whether a state holds.
    pub(super) fn contains(&self, state: &str) -> bool {
        self.holding.contains(state)
    }

    /// The states that hold.
    pub(super) fn all(&self) -> &BTreeSet<Arc<str>> {
        &self.holding
    }

    /// What a step brings about holds, what it undoes does not.
    pub(super) fn change(&mut self, undoes: &[Arc<str>], brings: &[Arc<str>]) {
        for state in undoes {
            self.holding.remove(state);
            self.undone.insert(state.clone());
        }
        for state in brings {
            self.holding.insert(state.clone());
            self.undone.remove(state);
        }
    }

    /// Whether a step has undone a state since it last held.
    pub(super) fn was_undone(&self, state: &str) -> bool {
        self.undone.contains(state)
    }
}
