//! A run: what goes in, what comes out, and what may be asked of it at any time.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::Duration;

use super::judgement::Judgements;
use super::place::AnswerPlace;
use super::setting::Setting;
use super::state::RunState;
use super::withdrawal::Withdrawn;
use crate::clock::{BootTime, Moment};
use crate::procedure::{Asks, Fact, Observable, Step};
use crate::record::Phase;
use crate::record::{Entry, EntryKind, Outcome};

/// Something a person does at a question.
#[derive(Clone, Debug, PartialEq)]
pub enum RunInput<'a> {
    /// An answer.
    Answer(&'a str),
    /// An answer that is meant though it may be unlikely.
    Confirmed(&'a str),
    /// The step is left out, with a reason.
    Skip(&'a str),
    /// The answer before is taken back.
    Back,
    /// The answer of that number is taken back; those after it are carried over where they fit.
    Amend(usize),
    /// The same, by a label or a word of it: of a fact that the system file told, or of an answer.
    AmendNamed(&'a str),
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

/// What comes about by itself, and when.
pub(super) struct Derived {
    pub now: Moment,
    pub events: Vec<Event>,
}

/// A run of a procedure.
#[derive(Clone, Debug)]
pub struct Run {
    pub(super) setting: Setting,
    pub(super) state: RunState,
    /// The answers in effect, in their order.
    pub(super) answers: Vec<Event>,
    /// What was taken back and not given again.
    pub(super) withdrawn: Withdrawn,
    /// The facts that the system file told, by their place.
    pub(super) file_facts: BTreeMap<AnswerPlace, Entry>,
    /// What checks came to.
    pub(super) judgements: Judgements,
    /// The number of the next entry.
    pub(super) next: u64,
    /// The machine's boot clock, as last told.
    pub(super) machine: Option<BootTime>,
    /// Whether it works out what would decide a check that can't tell.
    pub(super) advises: bool,
}

/// What a run waits on.
#[derive(Clone, Copy)]
pub(super) enum Waiting<'r> {
    /// A fact that is to be known.
    Fact(&'r Fact),
    /// What can hurt at a step, to be read before it.
    Warning(&'r Step),
    /// A step that a person is asked about.
    Step(&'r Step, &'r dyn Asks),
}

impl Run {
    /// What the run is made with.
    pub fn setting(&self) -> &Setting {
        &self.setting
    }

    /// Tells the run what the machine's boot clock shows: a wait that begins keeps it.
    pub fn tell_machine_time(&mut self, machine: Option<BootTime>) {
        self.machine = machine;
    }

    /// What the machine's boot clock showed as the wait under way began.
    pub fn wait_began_at(&self) -> Option<&BootTime> {
        let last = self.answers.last().map(|event| &event.entry);
        last.filter(|entry| entry.kind == EntryKind::WaitBegun)?.boot.as_ref()
    }

    /// The same run, which does not work out what would decide a check that can't tell. That is most of
    /// the work of a run, and no verdict hangs on it.
    pub fn without_advice(self) -> Run {
        Run { advises: false, ..self }
    }

    /// How it ended, and with which words; `None` while it goes on.
    pub fn ended(&self) -> Option<&(Outcome, String)> {
        self.state.ended.as_ref()
    }

    /// The states that hold now, by their ids.
    pub fn states(&self) -> Vec<&str> {
        self.state.holding.all().iter().map(AsRef::as_ref).collect()
    }

    /// How breaker, valves and tank stand now, as the steps left them, in few words each.
    pub fn stands(&self) -> Vec<&str> {
        let states = self.setting.procedure.states.iter();
        let holding = &self.state.holding;
        let words = states.filter_map(|state| match holding.contains(&state.id) {
            true => state.stands.as_deref(),
            false => state.undone.as_deref().filter(|_| holding.was_undone(&state.id)),
        });
        words.collect()
    }

    /// The value of a name, when it has one.
    pub fn value(&self, name: &str) -> Option<crate::lang::Value> {
        crate::lang::Values::value(&self.state.names, name).ok()
    }

    /// What the run waits on; `None` when it has ended.
    pub(super) fn waiting(&self) -> Option<Waiting<'_>> {
        let procedure = &self.setting.procedure;
        if self.state.ended.is_some() {
            return None;
        }
        match self.state.facts.front() {
            Some(at) => Some(Waiting::Fact(procedure.facts.get(*at)?)),
            None => {
                let step = self.state.frames.step(procedure)?;
                if self.must_warn(step) {
                    return Some(Waiting::Warning(step));
                }
                Some(Waiting::Step(step, step.course().asks()?))
            }
        }
    }

    /// The tank that is worked on now, by its place in the system file.
    pub(super) fn tank(&self) -> usize {
        self.state.frames.tank().unwrap_or(self.setting.tank)
    }

    /// Where the next answer belongs.
    pub(super) fn place(&self) -> AnswerPlace {
        let procedure = &self.setting.procedure;
        let round = self.state.frames.rounds();
        if let Some(at) = self.state.facts.front() {
            return AnswerPlace { step: procedure.facts[*at].id.clone(), round, ..AnswerPlace::default() };
        }
        match self.state.frames.step(procedure) {
            Some(step) => {
                let understands = self.must_warn(step);
                let several = !understands && step.course().gives().is_some_and(|gives| gives.times > 1);
                let take = several.then(|| self.state.takes.len() as u32 + 1);
                AnswerPlace { step: step.id.clone(), round, take, understands }
            }
            None => AnswerPlace { step: Arc::from("end"), round, ..AnswerPlace::default() },
        }
    }

    /// Whether there is an answer to take back.
    pub(super) fn can_go_back(&self) -> bool {
        self.state.answered > 0
    }

    /// What the answer is of where the run stands.
    pub(super) fn observable(&self) -> Option<&'static Observable> {
        match self.state.facts.front() {
            Some(at) => self.setting.procedure.facts[*at].observes,
            None => self.state.frames.step(&self.setting.procedure)?.observes,
        }
    }

    /// Under which heading of the summary the answer stands where the run stands.
    pub(super) fn tells(&self) -> Option<Phase> {
        let step = self.state.frames.step(&self.setting.procedure);
        step.filter(|_| self.state.facts.is_empty())?.tells
    }

    /// An entry at the place where the run stands.
    pub(super) fn entry(&self, kind: EntryKind, now: Moment) -> Entry {
        let place = self.place();
        let mut entry = Entry::new(kind, place.step.to_string(), now);
        entry.round = place.round;
        entry.take = place.take;
        entry.phase = self.tells();
        entry.observes = self.observable().map(|observable| observable.name.to_string());
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
