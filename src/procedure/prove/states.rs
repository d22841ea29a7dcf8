//! Which states certainly hold at the place of the walk, and under which conditions.
//!
//! For each state there are alternatives, each a guard: when all of any one guard holds, the
//! state does. An empty guard means that it holds whatever happened.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::conditions::{Condition, Conditions, Guard, both};
use super::context::Context;
use crate::procedure::place::SourcePlace;

/// The most alternatives kept for a state; dropping one only makes a proof harder.
const MOST_ALTERNATIVES: usize = 8;
/// The largest guard kept, for the same reason.
const LARGEST_GUARD: usize = 12;
/// The largest guard whose opposite is worked out when a state is ended under it.
const LARGEST_ENDING: usize = 4;

/// Why a state came or went, for messages.
#[derive(Clone, Debug)]
pub(super) enum StateChange {
    /// A step brings it about, but only under these conditions.
    BroughtWhen(String, SourcePlace, Guard),
    /// A step brings it about, but may be skipped, or fail, or run out of rounds.
    BroughtUnless(String, SourcePlace, &'static str),
    /// The part that would bring it about is left out.
    LeftOut(String),
    /// A step ends it.
    Ended(String, SourcePlace),
}

/// One state.
#[derive(Clone, Debug, Default)]
pub(super) struct Standing {
    alternatives: Vec<Guard>,
    /// The last thing done to it that leaves it in doubt.
    pub past: Option<StateChange>,
}

impl Standing {
    /// Whether it certainly holds.
    pub(super) fn holds(&self, context: &Context, conditions: &Conditions) -> bool {
        if self.alternatives.iter().any(|guard| context.has(guard)) {
            return true;
        }
        // What is certain here may leave only cases that are all covered.
        let mut holding = Standing::default();
        for guard in self.alternatives.iter().filter(|guard| !context.rules_out(guard)) {
            holding.keep(context.missing(guard), conditions);
        }
        let impossible = holding.alternatives.iter().flatten().flat_map(|c| conditions.others(*c));
        let impossible: Vec<_> = impossible.filter(|c| context.rules_out(&[**c])).copied().collect();
        impossible.into_iter().for_each(|c| holding.keep(Guard::from_slice(&[c]), conditions));
        holding.alternatives.iter().any(Guard::is_empty)
    }

    /// Adds an alternative, and shortens those that it completes.
    fn keep(&mut self, guard: Guard, conditions: &Conditions) {
        if guard.len() > LARGEST_GUARD {
            return;
        }
        let mut next = Some(guard);
        while let Some(guard) = next {
            if self.alternatives.iter().any(|known| known.iter().all(|c| guard.contains(c))) {
                return;
            }
            self.alternatives.retain(|known| !guard.iter().all(|c| known.contains(c)));
            self.alternatives.insert(0, guard);
            self.alternatives.truncate(MOST_ALTERNATIVES);
            next = self.alternatives.iter().find_map(|known| self.completed(known, conditions));
        }
    }

    /// The guard without a condition, when whatever holds in its place does as well.
    fn completed(&self, guard: &Guard, conditions: &Conditions) -> Option<Guard> {
        guard.iter().find_map(|condition| {
            let rest: Guard = guard.iter().filter(|other| *other != condition).copied().collect();
            let covered = |instead: Condition| {
                let case = both(&rest, &[instead]);
                self.alternatives.iter().any(|known| known.iter().all(|c| case.contains(c)))
            };
            let others = conditions.others(*condition);
            let by_word = !others.is_empty() && others.iter().all(|other| covered(*other));
            (covered(condition.opposite()) || by_word).then_some(rest)
        })
    }
}

/// Every state that a step has spoken of.
#[derive(Clone, Debug, Default)]
pub(super) struct States {
    all: FxHashMap<Arc<str>, Standing>,
}

impl States {
    pub(super) fn get(&self, state: &str) -> Option<&Standing> {
        self.all.get(state)
    }

    fn of(&mut self, state: &Arc<str>) -> &mut Standing {
        self.all.entry(state.clone()).or_default()
    }

    /// A step that is done under `guard` brings a state about.
    pub(super) fn bring(&mut self, state: &Arc<str>, guard: Guard, conditions: &Conditions) {
        self.of(state).keep(guard, conditions);
    }

    /// A step that may be done under `guard` ends a state; where a condition of the guard does
    /// not hold, the state stays.
    pub(super) fn end(&mut self, state: &Arc<str>, guard: &[Condition], conditions: &Conditions) {
        let standing = self.of(state);
        for old in std::mem::take(&mut standing.alternatives) {
            if conditions.exclude(&old, guard) {
                standing.keep(old, conditions);
            } else if guard.len() <= LARGEST_ENDING {
                for condition in guard.iter().filter(|condition| !old.contains(condition)) {
                    standing.keep(both(&old, &[condition.opposite()]), conditions);
                }
            }
        }
    }

    /// Notes what was done to a state, for messages; `None` when it certainly came about.
    pub(super) fn note(&mut self, state: &Arc<str>, past: Option<StateChange>) {
        self.of(state).past = past;
    }

    /// How the given states stand, to be met or put back later.
    pub(super) fn snapshot<'a>(
        &self,
        states: impl Iterator<Item = &'a Arc<str>>,
    ) -> Vec<(Arc<str>, Standing)> {
        states.map(|state| (state.clone(), self.all.get(state).cloned().unwrap_or_default())).collect()
    }

    /// From here on only what holds both now and in `others` is certain.
    pub(super) fn meet(&mut self, others: Vec<(Arc<str>, Standing)>, conditions: &Conditions) {
        for (state, other) in others {
            let standing = self.of(&state);
            let ours = std::mem::take(&mut standing.alternatives);
            for (a, b) in ours.iter().flat_map(|a| other.alternatives.iter().map(move |b| (a, b))) {
                if !conditions.exclude(a, b) {
                    standing.keep(both(a, b), conditions);
                }
            }
        }
    }

    /// Puts states back to how they stood.
    pub(super) fn put_back(&mut self, standings: Vec<(Arc<str>, Standing)>) {
        self.all.extend(standings);
    }
}
