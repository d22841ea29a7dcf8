//! Moving on: what a procedure does by itself until it waits for a person.

use std::collections::{BTreeSet, HashMap, HashSet, VecDeque};
use std::sync::Arc;

use super::ask::Place;
use super::frames::{Frames, Loop};
use super::names::Names;
use super::run::{Event, Run};
use super::setting::Setting;
use super::worked::Weighed;
use crate::clock::Moment;
use crate::lang::{Explanation, Value};
use crate::procedure::{Action, Fact, Step, StopOutcome, Usual};
use crate::quantity::{Kind, SourceId, Truth};
use crate::record::{EntryKind, Outcome};

/// The heading over the facts.
const FIRST_SECTION: &str = "What must be known first";

/// What the record says of a fact that the system file told.
pub const FROM_SYSTEM_FILE: &str = "from the system file";

/// Where a run stands and what it knows.
#[derive(Clone, Debug)]
pub(super) struct State {
    /// Facts still to be known, by their places in the procedure.
    pub facts: VecDeque<usize>,
    /// Which tank the facts about a tank are of, once an `each` has begun.
    pub facts_of: Option<usize>,
    /// What is known of each tank.
    pub known_of_tanks: HashMap<(usize, Arc<str>), Value>,
    pub frames: Frames,
    pub names: Names,
    /// The states that hold.
    pub holding: BTreeSet<Arc<str>>,
    /// The heading of the part of the work.
    pub section: Option<String>,
    /// Whether the next step's `when` has been looked at.
    pub entered: bool,
    /// Readings of the next step, when it takes several.
    pub takes: Vec<Value>,
    /// Which step's repeated readings a spread is that of.
    pub spreads: HashMap<SourceId, Arc<str>>,
    /// What is called a source of doubt that an expression made.
    pub limits: HashMap<SourceId, String>,
    /// How each step that works something out came to its newest result.
    pub explained: HashMap<Arc<str>, Explanation>,
    /// The steps whose results were told since the last answer.
    pub told: Vec<Arc<str>>,
    /// The checks told since the last answer.
    pub weighed: Vec<Weighed>,
    /// The steps that said what they worked out, ever.
    pub spoken: HashSet<Arc<str>>,
    pub wait_begun: Option<Moment>,
    pub ended: Option<(Outcome, String)>,
}

impl State {
    pub fn new(setting: &Setting) -> State {
        State {
            facts: (0..setting.procedure.facts.len()).collect(),
            facts_of: None,
            known_of_tanks: HashMap::new(),
            frames: Frames::new(),
            names: Names::new(setting.confidence()),
            holding: BTreeSet::new(),
            section: Some(FIRST_SECTION.to_string()),
            entered: false,
            takes: Vec::new(),
            spreads: HashMap::new(),
            limits: HashMap::new(),
            explained: HashMap::new(),
            told: Vec::new(),
            weighed: Vec::new(),
            spoken: HashSet::new(),
            wait_begun: None,
            ended: None,
        }
    }
}

impl Run {
    /// Where the next answer belongs.
    pub(super) fn place(&self) -> Place {
        let procedure = &self.setting.procedure;
        let round = self.state.frames.rounds();
        if let Some(at) = self.state.facts.front() {
            return Place { step: procedure.facts[*at].id.clone(), round, take: None };
        }
        match self.state.frames.step(procedure) {
            Some(step) => {
                let several = matches!(&step.action, Action::Read(read) if read.times > 1);
                let take = several.then(|| self.state.takes.len() as u32 + 1);
                Place { step: step.id.clone(), round, take }
            }
            None => Place { step: Arc::from("end"), round, take: None },
        }
    }

    /// Goes on until a person is needed or the run ends; returns what came about.
    pub(super) fn advance(&mut self, now: Moment) -> Vec<Event> {
        let mut events = Vec::new();
        let procedure = self.setting.procedure.clone();
        while self.state.ended.is_none() {
            if let Some(at) = self.state.facts.front().copied() {
                if !self.known_fact(at, now, &mut events) {
                    break;
                }
                continue;
            }
            let Some(step) = self.state.frames.step(&procedure) else {
                self.end_of_block(now, &mut events);
                continue;
            };
            if !self.state.entered && !self.enter(step, now, &mut events) {
                continue;
            }
            match &step.action {
                Action::Compute(compute) => self.compute(step, compute, now, &mut events),
                Action::Check(check) => self.check(step, check, now, &mut events),
                Action::Stop(stop) => {
                    let words = self.told(Some(&stop.text)).unwrap_or_default();
                    let outcome = match stop.outcome {
                        StopOutcome::Failed => Outcome::Failed,
                        StopOutcome::Unfinished => Outcome::Unfinished,
                    };
                    self.stop(outcome, words, now, &mut events);
                }
                Action::Repeat(repeat) => self.begin_repeat(repeat),
                Action::Each(each) => {
                    self.forget(&each.body);
                    self.begin_loop(Loop::Each);
                    self.tank_facts();
                }
                Action::Do(_) | Action::Read(_) | Action::Choose(_) | Action::Write(_) | Action::Wait(_) => {
                    break;
                }
            }
        }
        events
    }

    /// Takes a fact from the system file; `false` when it must be asked.
    pub(super) fn known_fact(&mut self, at: usize, now: Moment, events: &mut Vec<Event>) -> bool {
        let procedure = self.setting.procedure.clone();
        let fact = &procedure.facts[at];
        let tank = self.state.frames.tank().unwrap_or(self.setting.tank);
        let system = self.setting.system.clone();
        let from_file = fact.from.as_deref().and_then(|path| system.value(path, tank)).cloned();
        let from_file = from_file.filter(|value| self.outside_what_can_be(fact, value).is_none());
        let (value, said) = match (from_file, self.not_asked_for(fact)) {
            (Some(value), _) => (value, FROM_SYSTEM_FILE),
            (None, Some(value)) => (value, "not asked for: the usual answer stands"),
            (None, None) => return false,
        };
        let mut entry = self.entry(EntryKind::Fact, now);
        self.describe(&mut entry, &value);
        entry.said = Some(said.to_string());
        events.push(self.numbered(entry));
        self.state.facts.pop_front();
        self.state.names.set(&fact.id, value);
        true
    }

    /// The usual answer to a fact whose `when` does not hold.
    fn not_asked_for(&self, fact: &Fact) -> Option<Value> {
        let truth = fact.when.as_ref()?.truth(&self.state.names).ok()?;
        match (truth.best, fact.usual.as_ref()?) {
            (true, _) => None,
            (false, Usual::Value(expr)) => expr.value(&self.state.names).ok(),
            (false, Usual::Word(word)) if fact.kind == Kind::YesNo => {
                Some(Value::Truth(Truth::certain(word == "yes")))
            }
            (false, Usual::Word(word)) => Some(Value::text(word)),
        }
    }

    /// Looks at a step's condition; `false` when the step is left out.
    pub(super) fn enter(&mut self, step: &Step, now: Moment, events: &mut Vec<Event>) -> bool {
        match step.when.as_ref().map(|when| when.truth(&self.state.names)) {
            Some(Ok(truth)) if !truth.best => {
                self.state.names.absent(&step.id, format!("`{}` was not called for.", step.id));
                self.next_step();
                return false;
            }
            Some(Err(unknown)) => {
                let mut entry = self.entry(EntryKind::Skipped, now);
                let why = unknown.reason(self.setting.units);
                entry.reason = Some(format!("whether it is called for cannot be told: {why}"));
                events.push(self.numbered(entry));
                self.state.names.absent(&step.id, why.to_string());
                self.next_step();
                return false;
            }
            _ => {}
        }
        if let Some(title) = &step.title {
            self.state.section = Some(title.filled(&self.state.names, self.setting.units));
        }
        self.state.entered = true;
        true
    }

    pub(super) fn next_step(&mut self) {
        if let Some(frame) = self.state.frames.0.last_mut() {
            frame.at += 1;
        }
        self.state.entered = false;
        self.state.takes.clear();
        self.state.wait_begun = None;
    }

    /// Ends a step: what it brings about holds, what it undoes does not.
    pub(super) fn done(&mut self, step: &Step) {
        for state in &step.undoes {
            self.state.holding.remove(state);
        }
        self.state.holding.extend(step.brings.iter().cloned());
        self.next_step();
    }

    /// Puts a value under a name: one, or one more of a series.
    pub(super) fn define(&mut self, name: &str, value: Value) {
        if self.state.frames.repeats() {
            self.state.names.push(name, value);
        } else {
            self.state.names.set(name, value);
        }
    }
}
