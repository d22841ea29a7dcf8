//! What certainly holds at the place of the walk.

use rustc_hash::FxHashMap;

use super::conditions::{Condition, Guard, both};

/// What holds at the place of the walk.
#[derive(Default)]
pub(super) struct Context {
    holding: FxHashMap<Condition, u32>,
    /// The `when`s of the step and of the loops around it, outermost first.
    whens: Vec<Condition>,
    /// What holds besides: on every path that comes here, or because something else does.
    besides: Vec<Condition>,
}

/// How much of a context there was.
#[derive(Clone, Copy)]
pub(super) struct Checkpoint {
    whens: usize,
    besides: usize,
}

impl Context {
    /// Whether all of a guard holds.
    pub(super) fn has(&self, guard: &[Condition]) -> bool {
        guard.iter().all(|condition| self.holding.contains_key(condition))
    }

    /// Whether some of a guard certainly does not hold.
    pub(super) fn rules_out(&self, guard: &[Condition]) -> bool {
        guard.iter().any(|condition| self.holding.contains_key(&condition.opposite()))
    }

    /// The conditions of a guard that do not certainly hold.
    pub(super) fn missing(&self, guard: &[Condition]) -> Guard {
        guard.iter().filter(|condition| !self.holding.contains_key(condition)).copied().collect()
    }

    /// A `when` that holds from here on.
    pub(super) fn ask(&mut self, condition: Condition) {
        if !self.holding.contains_key(&condition) {
            self.whens.push(condition);
            self.count(condition);
        }
    }

    /// Something else that holds from here on.
    pub(super) fn assume(&mut self, condition: Condition) {
        self.besides.push(condition);
        self.count(condition);
    }

    fn count(&mut self, condition: Condition) {
        *self.holding.entry(condition).or_insert(0) += 1;
    }

    /// The `when`s in effect, as a guard.
    pub(super) fn guard(&self) -> Guard {
        both(&self.whens, &[])
    }

    /// The place to come back to.
    pub(super) fn mark(&self) -> Checkpoint {
        Checkpoint { whens: self.whens.len(), besides: self.besides.len() }
    }

    /// Forgets what was added since.
    pub(super) fn back_to(&mut self, mark: Checkpoint) {
        let gone: Guard = self.whens.drain(mark.whens..).chain(self.besides.drain(mark.besides..)).collect();
        for condition in gone {
            if let Some(count) = self.holding.get_mut(&condition) {
                *count -= 1;
                if *count == 0 {
                    self.holding.remove(&condition);
                }
            }
        }
    }
}
