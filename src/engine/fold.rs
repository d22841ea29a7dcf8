//! The fold: live answers and the entries of a record go through the same code.

use std::collections::{BTreeMap, BTreeSet, HashMap, VecDeque};
use std::time::Duration;

use thiserror::Error;

use super::carry_over::carried_or_given;
use super::judgement::Judgements;
use super::place::AnswerPlace;
use super::run::{Event, Run, RunInput};
use super::setting::Setting;
use super::state::RunState;
use super::withdrawal::{is_to_be_asked, is_to_be_carried};
use crate::clock::Moment;
use crate::procedure::{AnswerKind, Refusal};
use crate::record::{Entry, EntryKind};

/// A record that does not fit its own procedure.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("entry {n}: {why}")]
pub struct Misfit {
    /// The number of the entry that does not fit.
    pub n: u64,
    /// What is wrong with it.
    pub why: String,
}

impl Run {
    fn new(setting: Setting, judgements: Judgements) -> Run {
        let state = RunState::new(&setting);
        let (answers, withdrawn, to_carry) = Default::default();
        Run {
            setting,
            state,
            answers,
            withdrawn,
            to_carry,
            file_facts: BTreeMap::new(),
            own_facts: BTreeSet::new(),
            judgements,
            next: 1,
            machine: None,
            advises: true,
        }
    }

    /// Begins a run; the events are what is known or told before the first question.
    pub fn begin(setting: Setting, now: Moment) -> (Run, Vec<Event>) {
        let mut run = Run::new(setting, Judgements::default());
        let derived = run.advance(now);
        run.remember_facts(derived.iter().map(|event| &event.entry));
        (run, derived)
    }

    /// Rebuilds a run from the entries of its record. The events are those that should follow
    /// the last entry but are not in the record (it may have been cut there).
    ///
    /// # Errors
    /// [`Misfit`] when an entry does not fit the procedure.
    pub fn replay(setting: Setting, entries: &[Entry], now: Moment) -> Result<(Run, Vec<Event>), Misfit> {
        let effective = Effective::of(entries);
        let mut run = Run::new(setting, Judgements::of(entries));
        run.own_facts = effective.own;
        let mut due: VecDeque<Event> = run.advance(now).into();
        for entry in effective.kept {
            run.fits(entry)?;
            due = run.apply(entry.clone(), entry.at).into();
        }
        run.withdrawn = effective.withdrawn;
        if run.ended().is_none() {
            run.to_carry = effective.to_carry;
        }
        if effective.last.is_some_and(|last| last.kind == EntryKind::Withdrawn) {
            due.clear();
        }
        for entry in effective.derived {
            if due.front().is_some_and(|event| same_place(&event.entry, entry)) {
                due.pop_front();
            }
        }
        // What was derived while the record was read had numbers of its own; give it new ones.
        run.next = entries.last().map_or(1, |entry| entry.n + 1);
        let missing = due.into_iter().map(|mut event| {
            event.entry.n = run.next;
            event.entry.at = now;
            run.next += 1;
            event
        });
        let missing: Vec<Event> = missing.collect();
        run.remember_facts(entries.iter().chain(missing.iter().map(|event| &event.entry)));
        Ok((run, missing))
    }

    /// Takes what a person did. The events are the entries it makes, in their order: to be
    /// written before anything else happens.
    ///
    /// # Errors
    /// [`Refusal`]; the run stands where it stood.
    pub fn take(&mut self, input: RunInput<'_>, now: Moment) -> Result<Vec<Event>, Refusal> {
        let events = self.take_in(input, now)?;
        self.remember_facts(events.iter().map(|event| &event.entry));
        Ok(events)
    }

    fn take_in(&mut self, input: RunInput<'_>, now: Moment) -> Result<Vec<Event>, Refusal> {
        match input {
            RunInput::Note(text) => Ok(self.remark(EntryKind::Note, Some(text), now)),
            RunInput::Pause => Ok(self.remark(EntryKind::Paused, None, now)),
            RunInput::Resume => Ok(self.remark(EntryKind::Resumed, None, now)),
            RunInput::Back => self.go_back(now),
            RunInput::Skip(reason) => {
                let mut events = self.skip(reason, now)?;
                events.extend(self.carry_over(now));
                Ok(events)
            }
            RunInput::WaitBegins => self.wait(None, now),
            RunInput::WaitOver(length) => self.wait(Some(length), now),
            RunInput::Answer(typed, sure) => {
                let entry = self.answered(typed, sure, now)?;
                let mut events = self.accept(entry, now);
                events.extend(self.carry_over(now));
                Ok(events)
            }
            RunInput::Amend(number) => self.amend(number, now),
            RunInput::AmendNamed(words) => self.amend_named(words, now),
        }
    }

    /// Applies a new answer and returns it with what follows from it.
    pub(super) fn accept(&mut self, mut entry: Entry, now: Moment) -> Vec<Event> {
        entry.replaces = self.withdrawn.get(&self.place()).map(|(n, _)| *n);
        let answer = self.numbered(entry);
        let derived = self.apply(answer.entry.clone(), now);
        std::iter::once(answer).chain(derived).collect()
    }

    /// The one way an answer takes effect, live or from a record.
    pub(super) fn apply(&mut self, entry: Entry, now: Moment) -> Vec<Event> {
        self.rest_until(&entry);
        let value = self.value_of(&entry);
        let place = self.place();
        self.withdrawn.remove(&place);
        carried_or_given(&mut self.to_carry, &entry);
        let section = self.state.section.clone();
        self.observe(value.as_ref(), &entry);
        if !entry.kind.leads_in() {
            self.state.answered += 1;
            self.state.shown_before = true;
        }
        self.answer_given(&entry, value);
        self.answers.push(Event { section, entry });
        let derived = self.advance(now);
        if self.state.ended.is_some() {
            self.to_carry.clear();
        }
        derived
    }

    /// Whether an entry of a record answers the question the run waits on.
    fn fits(&self, entry: &Entry) -> Result<(), Misfit> {
        let place = self.place();
        let found = AnswerPlace::of(entry);
        if self.ended().is_none() && place == found {
            return Ok(());
        }
        let why = match self.ended() {
            Some(_) => format!("it answers `{}` after the run has ended", entry.step),
            None => format!("it answers `{}`, and `{}` is what comes next", entry.step, place.step),
        };
        Err(Misfit { n: entry.n, why })
    }

    fn remark(&mut self, kind: EntryKind, text: Option<&str>, now: Moment) -> Vec<Event> {
        let mut entry = self.entry(kind, now);
        entry.reason = text.map(|text| crate::words::harmless(text.trim()));
        vec![self.numbered(entry)]
    }

    pub(super) fn skip(&mut self, reason: &str, now: Moment) -> Result<Vec<Event>, Refusal> {
        let Some(ask) = self.ask().filter(|ask| ask.can_skip) else {
            return Refusal::again("This cannot be skipped.");
        };
        if reason.trim().is_empty() {
            return Refusal::again("Say why it is skipped; the record keeps the reason.");
        }
        let mut entry = self.entry(EntryKind::Skipped, now);
        entry.asked = Some(ask.text);
        entry.reason = Some(crate::words::harmless(reason.trim()));
        Ok(self.accept(entry, now))
    }

    /// A wait begins, or is over after so long.
    pub(super) fn wait(&mut self, over: Option<Duration>, now: Moment) -> Result<Vec<Event>, Refusal> {
        let Some(ask) = self.ask() else { return Refusal::again("The run has ended.") };
        let (kind, seconds) = if let (AnswerKind::WaitBegins(whole), None) = (&ask.expects, over) {
            (EntryKind::WaitBegun, whole.as_secs_f64())
        } else if let (AnswerKind::WaitOver(..), Some(length)) = (&ask.expects, over) {
            (EntryKind::Waited, length.as_secs_f64().round())
        } else {
            return Refusal::again("There is nothing to wait for here.");
        };
        let mut entry = self.entry(kind, now);
        entry.boot = self.machine.clone().filter(|_| kind == EntryKind::WaitBegun);
        entry.value = Some(seconds);
        entry.unit = Some("s".to_string());
        entry.asked = Some(ask.text);
        Ok(self.accept(entry, now))
    }
}

/// The entries of a record that are in force, and what else a run is rebuilt from.
#[derive(Default)]
struct Effective<'e> {
    /// Answers that were not taken back.
    kept: Vec<&'e Entry>,
    /// Answers taken back and not given again, by their place.
    withdrawn: HashMap<AnswerPlace, (u64, String)>,
    /// Those of them that are to be carried over.
    to_carry: VecDeque<Entry>,
    /// Facts that the person tells in place of the system file.
    own: BTreeSet<AnswerPlace>,
    /// The last answer or withdrawal.
    last: Option<&'e Entry>,
    /// What was derived after it.
    derived: Vec<&'e Entry>,
}

impl Effective<'_> {
    /// The last answer is taken back; or what the system file told, and the person is asked.
    fn withdraw(&mut self, withdrawal: &Entry, entries: &[Entry]) {
        if is_to_be_asked(withdrawal) {
            let told = withdrawal.replaces.and_then(|n| entries.iter().find(|entry| entry.n == n));
            if let Some(told) = told {
                let place = AnswerPlace::of(told);
                self.withdrawn.insert(place.clone(), (told.n, told.given.clone().unwrap_or_default()));
                self.own.insert(place);
            }
            return;
        }
        let Some(last) = self.kept.pop() else { return };
        let given = last.given.clone().unwrap_or_default();
        // What was given there last is offered again, not what led up to it.
        self.withdrawn.entry(AnswerPlace::of(last)).or_insert((last.n, given));
        if is_to_be_carried(withdrawal) {
            self.to_carry.push_front(last.clone());
        }
    }

    fn of(entries: &[Entry]) -> Effective<'_> {
        let mut effective = Effective::default();
        for entry in entries {
            if entry.is_derived() {
                effective.derived.push(entry);
                continue;
            }
            if entry.kind.is_aside() {
                continue;
            }
            if entry.kind == EntryKind::Withdrawn {
                effective.withdraw(entry, entries);
            } else {
                let place = AnswerPlace::of(entry);
                effective.withdrawn.remove(&place);
                carried_or_given(&mut effective.to_carry, entry);
                effective.kept.push(entry);
            }
            effective.last = Some(entry);
            effective.derived.clear();
        }
        effective
    }
}

fn same_place(a: &Entry, b: &Entry) -> bool {
    a.kind == b.kind && a.step == b.step && a.round == b.round
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::EntryKind::{Checked, Computed};

    #[test]
    fn entries_of_one_place_have_kind_step_and_round_alike() {
        let at = Moment::parse("2031-04-05T09:01:00-05:00").unwrap();
        let entry =
            |kind, step: &str, round: &[u32]| Entry { round: round.to_vec(), ..Entry::new(kind, step, at) };
        let one = entry(Checked, "held", &[1]);
        let others = [
            (entry(Checked, "held", &[1]), true),
            (entry(Computed, "held", &[1]), false),
            (entry(Checked, "tight", &[1]), false),
            (entry(Checked, "held", &[2]), false),
            (entry(Computed, "tight", &[1]), false),
        ];
        for (other, same) in others {
            assert_eq!(same_place(&one, &other), same, "{other:?}");
        }
    }
}
