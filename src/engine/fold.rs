//! The fold: live answers and the entries of a record go through the same code.

use std::collections::{BTreeMap, VecDeque};
use std::time::Duration;

use thiserror::Error;

use super::judgement::Judgements;
use super::place::AnswerPlace;
use super::run::{Event, Run, RunInput};
use super::setting::Setting;
use super::state::RunState;
use super::withdrawal::Withdrawn;
use crate::clock::Moment;
use crate::procedure::{Answer, AnswerKind, Refusal};
use crate::record::{Entry, EntryKind, effective_entries};

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
        Run {
            setting,
            state,
            answers: Vec::new(),
            withdrawn: Withdrawn::default(),
            file_facts: BTreeMap::new(),
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
        derived.iter().for_each(|event| run.remember_fact(&event.entry));
        (run, derived)
    }

    /// Rebuilds a run from the entries of its record. The events are those that should follow
    /// the last entry but are not in the record (it may have been cut there).
    ///
    /// # Errors
    /// [`Misfit`] when an entry does not fit the procedure.
    pub fn replay(setting: Setting, entries: &[Entry], now: Moment) -> Result<(Run, Vec<Event>), Misfit> {
        let withdrawn = Withdrawn::of(entries);
        let mut run = Run::new(setting, Judgements::of(entries));
        run.withdrawn.own_facts = withdrawn.own_facts.clone();
        let mut due: VecDeque<Event> = run.advance(now).into();
        for entry in effective_entries(entries) {
            if entry.moves_on() {
                run.fits(entry)?;
                due = run.apply(entry.clone(), entry.at).into();
            } else if due.front().is_some_and(|event| same_place(&event.entry, entry)) {
                due.pop_front();
            }
            run.remember_fact(entry);
        }
        run.withdrawn = withdrawn;
        if run.ended().is_some() {
            run.withdrawn.to_carry.clear();
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
        missing.iter().for_each(|event| run.remember_fact(&event.entry));
        Ok((run, missing))
    }

    /// Takes what a person did. The events are the entries it makes, in their order: to be
    /// written before anything else happens.
    ///
    /// # Errors
    /// [`Refusal`]; the run stands where it stood.
    pub fn take(&mut self, input: RunInput<'_>, now: Moment) -> Result<Vec<Event>, Refusal> {
        let events = self.take_in(input, now)?;
        events.iter().for_each(|event| self.remember_fact(&event.entry));
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
            RunInput::Answer(typed) => self.answer(&Answer { typed, sure: false }, now),
            RunInput::Confirmed(typed) => self.answer(&Answer { typed, sure: true }, now),
            RunInput::Amend(number) => self.amend(number, now),
            RunInput::AmendNamed(words) => self.amend_named(words, now),
        }
    }

    fn answer(&mut self, answer: &Answer<'_>, now: Moment) -> Result<Vec<Event>, Refusal> {
        let entry = self.answered(answer, now)?;
        let mut events = self.accept(entry, now);
        events.extend(self.carry_over(now));
        Ok(events)
    }

    /// Applies a new answer and returns it with what follows from it.
    pub(super) fn accept(&mut self, mut entry: Entry, now: Moment) -> Vec<Event> {
        entry.replaces = self.withdrawn.earlier.get(&self.place()).map(|(n, _)| *n);
        let answer = self.numbered(entry);
        let derived = self.apply(answer.entry.clone(), now);
        std::iter::once(answer).chain(derived).collect()
    }

    /// The one way an answer takes effect, live or from a record.
    pub(super) fn apply(&mut self, entry: Entry, now: Moment) -> Vec<Event> {
        self.rest_until(&entry);
        let value = self.value_of(&entry);
        self.withdrawn.give(&entry);
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
            self.withdrawn.to_carry.clear();
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
        } else if let (AnswerKind::WaitOver { .. }, Some(length)) = (&ask.expects, over) {
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
