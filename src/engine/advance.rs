//! Moving on: what a procedure does by itself until it waits for a person.

use std::collections::{BTreeSet, VecDeque};
use std::sync::Arc;

use super::ask::Place;
use super::frames::{Frame, Frames, Loop, names_of};
use super::names::Names;
use super::run::{Event, Run};
use super::setting::Setting;
use crate::clock::Moment;
use crate::lang::{Collapse, Template, Unknown, Value};
use crate::procedure::{Action, CONFIDENCE, Check, Compute, Repeat, Step, StopOutcome};
use crate::quantity::{Measure, Truth, Verdict};
use crate::record::{Entry, EntryKind, Outcome};

/// The heading over the facts.
const FIRST_SECTION: &str = "What must be known first";

/// Where a run stands and what it knows.
#[derive(Clone, Debug)]
pub(super) struct State {
    /// Facts still to be known, by their places in the procedure.
    pub facts: VecDeque<usize>,
    pub frames: Frames,
    pub names: Names,
    /// The states that hold.
    pub holding: BTreeSet<Arc<str>>,
    /// The heading of the part of the work.
    pub section: Option<String>,
    /// Whether the next step's `when` has been looked at.
    entered: bool,
    /// Readings of the next step, when it takes several.
    takes: Vec<Value>,
    pub wait_begun: Option<Moment>,
    pub ended: Option<(Outcome, String)>,
}

impl State {
    pub fn new(setting: &Setting) -> State {
        State {
            facts: (0..setting.procedure.facts.len()).collect(),
            frames: Frames::new(),
            names: Names::default(),
            holding: BTreeSet::new(),
            section: Some(FIRST_SECTION.to_string()),
            entered: false,
            takes: Vec::new(),
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
                    let words = stop.text.filled(&self.state.names, self.setting.units);
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
    fn known_fact(&mut self, at: usize, now: Moment, events: &mut Vec<Event>) -> bool {
        let procedure = self.setting.procedure.clone();
        let fact = &procedure.facts[at];
        let tank = self.state.frames.tank().unwrap_or(self.setting.tank);
        let system = self.setting.system.clone();
        let Some(value) = fact.from.as_deref().and_then(|path| system.value(path, tank)) else {
            return false;
        };
        let mut entry = self.entry(EntryKind::Fact, now);
        self.describe(&mut entry, value);
        entry.said = Some("from the system file".to_string());
        events.push(self.numbered(entry));
        self.state.facts.pop_front();
        self.state.names.set(&fact.id, value.clone());
        true
    }

    /// Facts about the tank are looked up again for each tank.
    fn tank_facts(&mut self) {
        let about_tank =
            |from: &Option<Arc<str>>| from.as_ref().is_some_and(|path| path.starts_with("tank."));
        let facts = self.setting.procedure.facts.iter().enumerate();
        self.state.facts = facts.filter(|(_, fact)| about_tank(&fact.from)).map(|(at, _)| at).collect();
    }

    /// Looks at a step's condition; `false` when the step is left out.
    fn enter(&mut self, step: &Step, now: Moment, events: &mut Vec<Event>) -> bool {
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

    fn next_step(&mut self) {
        if let Some(frame) = self.state.frames.0.last_mut() {
            frame.at += 1;
        }
        self.state.entered = false;
        self.state.takes.clear();
        self.state.wait_begun = None;
    }

    /// Ends a step: what it brings about holds, what it undoes does not.
    fn done(&mut self, step: &Step) {
        for state in &step.undoes {
            self.state.holding.remove(state);
        }
        self.state.holding.extend(step.brings.iter().cloned());
        self.next_step();
    }

    /// Puts a value under a name: one, or one more of a series.
    fn define(&mut self, name: &str, value: Value) {
        if self.state.frames.repeats() {
            self.state.names.push(name, value)
        } else {
            self.state.names.set(name, value)
        }
    }

    /// An answer takes effect.
    pub(super) fn answer_given(&mut self, entry: &Entry, value: Option<Value>) {
        if let Some(at) = self.state.facts.pop_front() {
            let id = self.setting.procedure.facts[at].id.clone();
            if let Some(value) = value {
                self.state.names.set(&id, value);
            }
            return;
        }
        let procedure = self.setting.procedure.clone();
        let Some(step) = self.state.frames.step(&procedure) else { return };
        if entry.kind == EntryKind::Skipped {
            let reason = entry.reason.clone().unwrap_or_default();
            self.state.names.absent(&step.id, format!("`{}` was skipped: {reason}", step.id));
            self.next_step();
            return;
        }
        if entry.kind == EntryKind::WaitBegun {
            self.state.wait_begun = Some(entry.at);
            return;
        }
        let Some(value) = value else {
            self.done(step);
            return;
        };
        match &step.action {
            Action::Read(read) if read.times > 1 => {
                self.state.takes.push(value);
                if self.state.takes.len() < read.times as usize {
                    return;
                }
                let takes = Value::Series(std::mem::take(&mut self.state.takes));
                match takes.clone().collapsed(Collapse::Mean) {
                    Ok(mean) if self.state.frames.repeats() => self.state.names.push(&step.id, mean),
                    _ => self.state.names.set(&step.id, takes),
                }
            }
            _ => self.define(&step.id, value),
        }
        if let Action::Read(read) = &step.action
            && read.at_from_clock
        {
            let at = Value::exact(Measure::Instant, entry.at.unix_seconds() as f64);
            self.define(&format!("{}_at", step.id), at);
        }
        self.done(step);
    }

    fn compute(&mut self, step: &Step, compute: &Compute, now: Moment, events: &mut Vec<Event>) {
        let mut entry = self.entry(EntryKind::Computed, now);
        match compute.expr.value(&self.state.names) {
            Ok(value) => {
                self.describe(&mut entry, &value);
                self.define(&step.id, value);
                entry.said = self.told(&compute.say);
            }
            Err(unknown) => {
                let reason = sentence(&unknown, self.setting.units);
                self.state.names.absent(&step.id, reason.clone());
                if compute.say.is_some() {
                    entry.said = Some(format!("This cannot be worked out: {reason}"));
                }
                entry.reason = Some(reason);
            }
        }
        events.push(self.numbered(entry));
        self.done(step);
    }

    fn told(&self, text: &Option<Template>) -> Option<String> {
        text.as_ref().map(|text| text.filled(&self.state.names, self.setting.units))
    }

    fn check(&mut self, step: &Step, check: &Check, now: Moment, events: &mut Vec<Event>) {
        let mut entry = self.entry(EntryKind::Checked, now);
        entry.asked = Some(check.expr.expr().to_string());
        let truth = check.expr.truth(&self.state.names);
        let verdict = truth.as_ref().map_or(Verdict::CantTell, |truth| truth.verdict(CONFIDENCE));
        entry.verdict = Some(verdict);
        match truth {
            Ok(truth) => {
                entry.truth = Some(truth);
                self.define(&step.id, Value::Truth(truth));
            }
            Err(unknown) => {
                let reason = sentence(&unknown, self.setting.units);
                self.state.names.absent(&step.id, reason.clone());
                entry.reason = Some(reason);
            }
        }
        entry.said = self.told(match verdict {
            Verdict::Pass => &check.pass,
            Verdict::Fail => &check.fail,
            Verdict::CantTell => &check.unsure,
        });
        let words = entry.said.clone();
        events.push(self.numbered(entry));
        match verdict {
            Verdict::Fail if check.must => {
                let words = words.unwrap_or_else(|| format!("`{}` does not hold.", check.expr.expr()));
                self.stop(Outcome::Unfinished, words, now, events);
            }
            Verdict::Fail => self.next_step(),
            Verdict::Pass | Verdict::CantTell => self.done(step),
        }
    }

    fn stop(&mut self, outcome: Outcome, words: String, now: Moment, events: &mut Vec<Event>) {
        let mut entry = self.entry(EntryKind::Stopped, now);
        entry.said = Some(words.clone());
        events.push(self.numbered(entry));
        self.state.ended = Some((outcome, words));
    }

    /// Says in an entry what a value is.
    fn describe(&self, entry: &mut Entry, value: &Value) {
        entry.given = Some(value.shown(self.setting.units));
        if let Value::Amount(measure, amount) = value {
            let unit = self.setting.units.unit_for(*measure);
            let size = unit.map_or(1.0, |unit| unit.size);
            entry.value = Some(unit.map_or(amount.value(), |unit| unit.from_si(*measure, amount.value())));
            entry.unit = unit.map(|unit| unit.symbol.to_string());
            let u = amount.standard_uncertainty() / size;
            entry.uncertainty = (u > 0.0).then_some(u);
        }
        if let Value::Truth(Truth { .. }) = value {
            entry.value = None;
        }
    }

    fn begin_repeat(&mut self, repeat: &Repeat) {
        let ends_at_once =
            repeat.at_least == 0 && repeat.until.truth(&self.state.names).is_ok_and(|truth| truth.best);
        self.forget(&repeat.body);
        if ends_at_once {
            let procedure = self.setting.procedure.clone();
            if let Some(step) = self.state.frames.step(&procedure) {
                self.done(step);
            }
        } else {
            self.begin_loop(Loop::Repeat);
        }
    }

    fn begin_loop(&mut self, which: Loop) {
        self.state.frames.0.push(Frame::new(which));
        self.state.entered = false;
    }

    fn forget(&mut self, body: &[Step]) {
        names_of(body, &mut |name| self.state.names.clear(name));
    }

    fn end_of_block(&mut self, now: Moment, events: &mut Vec<Event>) {
        match self.state.frames.0.last().map(|frame| frame.which) {
            None | Some(Loop::Root) => {
                self.state.ended =
                    Some((Outcome::Completed, "The procedure was walked to its end.".to_string()));
            }
            Some(Loop::Repeat) => self.end_of_round(now, events),
            Some(Loop::Each) => self.end_of_tank(),
        }
    }

    fn end_of_round(&mut self, now: Moment, events: &mut Vec<Event>) {
        let procedure = self.setting.procedure.clone();
        let Some(frame) = self.state.frames.0.pop() else { return };
        let Some(step) = self.state.frames.step(&procedure) else { return };
        let Action::Repeat(repeat) = &step.action else { return };
        if let Some(said) = self.told(&repeat.say) {
            let mut entry = self.entry(EntryKind::Computed, now);
            entry.round.push(frame.round);
            entry.said = Some(said);
            events.push(self.numbered(entry));
        }
        let holds = repeat.until.truth(&self.state.names).is_ok_and(|truth| truth.best);
        if (holds && frame.round >= repeat.at_least) || frame.round >= repeat.at_most {
            self.done(step);
        } else {
            self.state.frames.0.push(Frame { at: 0, round: frame.round + 1, ..frame });
            self.state.entered = false;
        }
    }

    fn end_of_tank(&mut self) {
        let procedure = self.setting.procedure.clone();
        let Some(mut frame) = self.state.frames.0.pop() else { return };
        let Some(step) = self.state.frames.step(&procedure) else { return };
        let names = &mut self.state.names;
        names_of(step.body(), &mut |name| {
            if let Some(value) = names.collapsed(name) {
                frame.per_tank.entry(Arc::from(name)).or_default().push(value);
            }
            names.clear(name);
        });
        if (frame.round as usize) < self.setting.system.tanks.len() {
            self.state.frames.0.push(Frame { at: 0, round: frame.round + 1, ..frame });
            self.state.entered = false;
            self.tank_facts();
        } else {
            for (name, values) in frame.per_tank {
                self.state.names.set(&name, Value::Series(values));
            }
            self.done(step);
        }
    }
}

fn sentence(unknown: &Unknown, units: crate::quantity::Units) -> String {
    unknown.reason(units).to_string()
}
