//! Answers taken back: why, and what becomes of them until they are given again.

use std::collections::{BTreeSet, HashMap, VecDeque};

use super::place::AnswerPlace;
use crate::record::{Entry, EntryRole};

/// What the record says of an answer that is changed, and of those after it, until they are given again.
pub(super) const TO_BE_CARRIED: &str = "to be carried over";
/// What it says of a fact that the system file told and the person will tell.
pub(super) const TO_BE_ASKED: &str = "not as the system file says";

/// What was taken back and not given again.
#[derive(Clone, Debug, Default)]
pub(super) struct Withdrawn {
    /// Where: number and words.
    pub earlier: HashMap<AnswerPlace, (u64, String)>,
    /// What is to be carried over, in its order.
    pub to_carry: VecDeque<Entry>,
    /// Facts that the person tells in place of the system file.
    pub own_facts: BTreeSet<AnswerPlace>,
}

impl Withdrawn {
    /// What is taken back at the end of these entries of a record.
    pub(super) fn of(entries: &[Entry]) -> Withdrawn {
        let mut all = Withdrawn::default();
        let numbered = |n| entries.binary_search_by_key(&n, |entry| entry.n).ok();
        for entry in entries {
            if let Some(old) = entry.takes_back().and_then(numbered) {
                all.take(&entries[old], entry.reason.as_deref());
            } else if entry.moves_on() {
                all.give(entry);
            }
        }
        all
    }

    /// An entry is taken back, for a reason.
    pub(super) fn take(&mut self, old: &Entry, why: Option<&str>) {
        let place = AnswerPlace::of(old);
        match why {
            Some(TO_BE_CARRIED) => self.to_carry.push_front(old.clone()),
            Some(TO_BE_ASKED) => _ = self.own_facts.insert(place.clone()),
            Some(_) | None => {}
        }
        // What was given there last is offered again, not what led up to it.
        self.earlier.entry(place).or_insert((old.n, old.given.clone().unwrap_or_default()));
    }

    /// An answer is given, so what was to be carried over to its place is not any more: the first of what leads up to
    /// an answer there, and with the answer itself all of it.
    pub(super) fn give(&mut self, given: &Entry) {
        let place = AnswerPlace::of(given);
        self.earlier.remove(&place);
        let leads_up = given.kind.role() == EntryRole::Denial || given.kind.leads_in();
        if !leads_up {
            self.to_carry.retain(|kept| AnswerPlace::of(kept) != place);
        } else if let Some(at) = self.to_carry.iter().position(|kept| AnswerPlace::of(kept) == place) {
            self.to_carry.remove(at);
        }
    }
}
