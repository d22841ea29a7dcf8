//! A run: what goes in, what comes out, and the fold over entries.

use std::collections::HashMap;
use std::time::Duration;

use thiserror::Error;

use super::advance::State;
use super::answer::Refusal;
use super::ask::{Place, Wanted};
use super::setting::Setting;
use crate::clock::Moment;
use crate::quantity::unit;
use crate::record::{Entry, EntryKind, Outcome};

/// Something a person does at a question.
#[derive(Clone, Debug, PartialEq)]
pub enum Input<'a> {
    /// An answer; `true` when an unlikely one is meant.
    Answer(&'a str, bool),
    /// The step is left out, with a reason.
    Skip(&'a str),
    /// The answer before is taken back.
    Back,
    /// A remark.
    Note(&'a str),
    /// The wait begins.
    WaitBegins,
    /// The wait is over, after so long.
    WaitOver(Duration),
    /// The run is left.
    Pause,
    /// The run is gone on with.
    Resume,
}

/// An entry that came about, with the heading it stands under.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// The part of the work it belongs to.
    pub section: Option<String>,
    /// The entry.
    pub entry: Entry,
}

/// A record that does not fit its own procedure.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("entry {n}: {why}")]
pub struct Misfit {
    /// The number of the entry that does not fit.
    pub n: u64,
    /// What is wrong with it.
    pub why: String,
}

/// A run of a procedure.
#[derive(Clone, Debug)]
pub struct Run {
    pub(super) setting: Setting,
    pub(super) state: State,
    /// The answers in force, in their order.
    pub(super) answers: Vec<Entry>,
    /// Answers taken back, by their place: number and words.
    pub(super) taken_back: HashMap<Place, (u64, String)>,
    next: u64,
}

impl Run {
    /// Begins a run; the events are what is known or told before the first question.
    pub fn begin(setting: Setting, now: Moment) -> (Run, Vec<Event>) {
        let state = State::new(&setting);
        let mut run = Run { setting, state, answers: Vec::new(), taken_back: HashMap::new(), next: 1 };
        let derived = run.advance(now);
        (run, derived)
    }

    /// Rebuilds a run from the entries of its record. The events are those that should follow
    /// the last entry but are not in the record (it may have been cut there).
    ///
    /// # Errors
    /// [`Misfit`] when an entry does not fit the procedure.
    pub fn replay(setting: Setting, entries: &[Entry], now: Moment) -> Result<(Run, Vec<Event>), Misfit> {
        let state = State::new(&setting);
        let mut run = Run { setting, state, answers: Vec::new(), taken_back: HashMap::new(), next: 1 };
        let mut due: std::collections::VecDeque<Event> = run.advance(now).into();
        for entry in entries {
            if is_derived(entry) {
                if due.front().is_some_and(|event| same_place(&event.entry, entry)) {
                    due.pop_front();
                }
                continue;
            }
            match entry.kind {
                EntryKind::Note | EntryKind::Paused | EntryKind::Resumed => {}
                EntryKind::Withdrawn => {
                    run.take_back(entry.at);
                    due.clear();
                }
                _ => {
                    run.fits(entry)?;
                    due = run.apply(entry.clone(), entry.at).into();
                }
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
        Ok((run, missing))
    }

    /// What the run is made with.
    pub fn setting(&self) -> &Setting {
        &self.setting
    }

    /// How it ended, and with which words; `None` while it goes on.
    pub fn ended(&self) -> Option<&(Outcome, String)> {
        self.state.ended.as_ref()
    }

    /// The states that hold now, by their ids.
    pub fn states(&self) -> Vec<&str> {
        self.state.holding.iter().map(AsRef::as_ref).collect()
    }

    /// The value of a name, when it has one.
    pub fn value(&self, name: &str) -> Option<crate::lang::Value> {
        crate::lang::Values::value(&self.state.names, name).ok()
    }

    /// Takes what a person did. The events are the entries it makes, in their order: to be
    /// written before anything else happens.
    ///
    /// # Errors
    /// [`Refusal`]; the run stands where it stood.
    pub fn take(&mut self, input: Input<'_>, now: Moment) -> Result<Vec<Event>, Refusal> {
        match input {
            Input::Note(text) => Ok(self.remark(EntryKind::Note, Some(text), now)),
            Input::Pause => Ok(self.remark(EntryKind::Paused, None, now)),
            Input::Resume => Ok(self.remark(EntryKind::Resumed, None, now)),
            Input::Back => self.go_back(now),
            Input::Skip(reason) => self.skip(reason, now),
            Input::WaitBegins | Input::WaitOver(_) => self.wait(&input, now),
            Input::Answer(typed, sure) => {
                let Some(ask) = self.ask() else {
                    return Err(Refusal::Again("The run has ended.".into()));
                };
                let entry = self.answered(&ask, typed, sure, now)?;
                Ok(self.accept(entry, now))
            }
        }
    }

    /// Applies a new answer and returns it with what follows from it.
    fn accept(&mut self, mut entry: Entry, now: Moment) -> Vec<Event> {
        let place = self.place();
        entry.n = self.next;
        entry.replaces = self.taken_back.get(&place).map(|(n, _)| *n);
        self.next += 1;
        let section = self.state.section.clone();
        let derived = self.apply(entry.clone(), now);
        std::iter::once(Event { section, entry }).chain(derived).collect()
    }

    /// The one way an answer takes effect, live or from a record.
    fn apply(&mut self, entry: Entry, now: Moment) -> Vec<Event> {
        let value = self.value_of(&entry);
        self.taken_back.remove(&self.place());
        if !is_wait(&entry) {
            self.state.told.clear();
            self.state.weighed.clear();
        }
        self.answer_given(&entry, value);
        self.answers.push(entry);
        self.advance(now)
    }

    fn value_of(&self, entry: &Entry) -> Option<crate::lang::Value> {
        use crate::lang::Value;
        let ask = self.ask()?;
        if entry.kind == EntryKind::Skipped {
            return None;
        }
        match ask.wanted {
            Wanted::Number(measure, _) => {
                let number = entry.value?;
                let unit = entry.unit.as_deref().and_then(unit);
                let si = unit.map_or(number, |unit| unit.to_si(measure, number));
                Some(Value::Amount(measure, self.setting.doubted(si, entry.gauge.as_deref(), entry.n)))
            }
            Wanted::YesNo => {
                let yes = entry.given.as_deref() == Some("yes");
                Some(Value::Truth(crate::quantity::Truth::certain(yes)))
            }
            Wanted::OneOf(_) | Wanted::Text(_) => entry.given.as_deref().map(Value::text),
            Wanted::WaitOver(..) => Some(Value::exact(crate::quantity::Measure::Duration, entry.value?)),
            Wanted::Done(_) | Wanted::WaitBegins(_) => None,
        }
    }

    /// Whether an entry of a record answers the question the run waits on.
    fn fits(&self, entry: &Entry) -> Result<(), Misfit> {
        let place = self.place();
        let found = Place { step: entry.step.as_str().into(), round: entry.round.clone(), take: entry.take };
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
        entry.n = self.next;
        self.next += 1;
        vec![Event { section: self.state.section.clone(), entry }]
    }

    fn skip(&mut self, reason: &str, now: Moment) -> Result<Vec<Event>, Refusal> {
        let ask = self.ask().filter(|ask| ask.can_skip);
        let Some(ask) = ask else {
            return Err(Refusal::Again("This cannot be skipped.".into()));
        };
        if reason.trim().is_empty() {
            return Err(Refusal::Again("Say why it is skipped; the record keeps the reason.".into()));
        }
        let mut entry = self.entry(EntryKind::Skipped, now);
        entry.asked = Some(ask.text);
        entry.reason = Some(crate::words::harmless(reason.trim()));
        Ok(self.accept(entry, now))
    }

    fn wait(&mut self, input: &Input<'_>, now: Moment) -> Result<Vec<Event>, Refusal> {
        let ask = self.ask().ok_or_else(|| Refusal::Again("The run has ended.".into()))?;
        let mut entry = match (input, &ask.wanted) {
            (Input::WaitBegins, Wanted::WaitBegins(whole)) => {
                let mut entry = self.entry(EntryKind::WaitBegun, now);
                entry.value = Some(whole.as_secs_f64());
                entry
            }
            (Input::WaitOver(length), Wanted::WaitOver(..)) => {
                let mut entry = self.entry(EntryKind::Waited, now);
                entry.value = Some(length.as_secs_f64().round());
                entry
            }
            _ => return Err(Refusal::Again("There is nothing to wait for here.".into())),
        };
        entry.unit = Some("s".to_string());
        entry.asked = Some(ask.text);
        Ok(self.accept(entry, now))
    }

    pub(super) fn can_go_back(&self) -> bool {
        self.answers.iter().any(|entry| !is_wait(entry))
    }

    /// Takes back the last answer, and a wait that came after it.
    fn go_back(&mut self, now: Moment) -> Result<Vec<Event>, Refusal> {
        if !self.can_go_back() {
            return Err(Refusal::Again("There is no answer before this one.".into()));
        }
        let mut events = Vec::new();
        while let Some(last) = self.answers.last().cloned() {
            self.take_back(now);
            let mut entry = self.entry(EntryKind::Withdrawn, now);
            entry.replaces = Some(last.n);
            entry.n = self.next;
            self.next += 1;
            events.push(Event { section: None, entry });
            if !is_wait(&last) {
                break;
            }
        }
        Ok(events)
    }

    /// Removes the last answer and folds the rest anew: what it brought about goes with it.
    fn take_back(&mut self, now: Moment) {
        let Some(last) = self.answers.pop() else { return };
        let kept = std::mem::take(&mut self.answers);
        let next = self.next;
        self.state = State::new(&self.setting);
        self.advance(now);
        for entry in kept {
            let at = entry.at;
            self.apply(entry, at);
        }
        // What was derived again stands in the record already.
        self.next = next;
        let given = last.given.clone().unwrap_or_default();
        self.taken_back.insert(self.place(), (last.n, given));
    }

    /// An entry at the place where the run stands.
    pub(super) fn entry(&self, kind: EntryKind, now: Moment) -> Entry {
        let place = self.place();
        let mut entry = Entry::new(kind, place.step.to_string(), now);
        entry.round = place.round;
        entry.take = place.take;
        entry.tank = self.state.frames.tank().and_then(|tank| self.setting.tank_id(tank));
        entry
    }

    /// Gives an entry the next number.
    pub(super) fn numbered(&mut self, mut entry: Entry) -> Event {
        entry.n = self.next;
        self.next += 1;
        Event { section: self.state.section.clone(), entry }
    }
}

fn is_wait(entry: &Entry) -> bool {
    matches!(entry.kind, EntryKind::WaitBegun | EntryKind::Waited)
}

/// Whether an entry follows from others rather than from a person.
fn is_derived(entry: &Entry) -> bool {
    match entry.kind {
        EntryKind::Computed | EntryKind::Checked | EntryKind::Stopped => true,
        // A fact or a step left out that nobody was asked about.
        EntryKind::Fact | EntryKind::Skipped => entry.asked.is_none(),
        _ => false,
    }
}

fn same_place(a: &Entry, b: &Entry) -> bool {
    a.kind == b.kind && a.step == b.step && a.round == b.round
}
