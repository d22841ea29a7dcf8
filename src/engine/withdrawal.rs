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
    /// What is to be carried over to each place, in its order: what leads up to an answer, and the answer.
    pub to_carry: HashMap<AnswerPlace, VecDeque<Entry>>,
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
            Some(TO_BE_CARRIED) => {
                self.to_carry.entry(place.clone()).or_default().push_front(old.clone());
            }
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
        let Some(kept) = self.to_carry.get_mut(&place) else { return };
        kept.pop_front();
        if !leads_up || kept.is_empty() {
            self.to_carry.remove(&place);
        }
    }

    /// The first of what is to be carried over to a place.
    pub(super) fn kept(&self, place: &AnswerPlace) -> Option<&Entry> {
        self.to_carry.get(place)?.front()
    }

    /// The answers that are to be carried over.
    pub(super) fn answers_kept(&self) -> impl Iterator<Item = &Entry> {
        self.to_carry.values().flatten().filter(|entry| !entry.kind.leads_in())
    }
}
