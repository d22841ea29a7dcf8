//! Moving on: what a procedure does by itself until it waits for a person.

use super::run::{Derived, Event, Run};
use crate::clock::Moment;
use crate::lang::{CheckedExpr, Value, Values};
use crate::procedure::{AtHand, Course, Fact, LoopKind, NOT_KNOWN, Needed, Step, StopOutcome};
use crate::quantity::Uncertain;
use crate::record::{EntryKind, Outcome, Provenance};

/// What the record says of a fact that the system file told.
const FROM_SYSTEM_FILE: &str = "from the system file";

impl Run {
    /// Goes on until a person is needed or the run ends; returns what came about.
    pub(super) fn advance(&mut self, now: Moment) -> Vec<Event> {
        let mut out = Derived { now, events: Vec::new() };
        let procedure = self.setting.procedure.clone();
        while self.state.ended.is_none() {
            if let Some(at) = self.state.facts.front().copied() {
                if !self.known_fact(at, &mut out) {
                    break;
                }
                continue;
            }
            let Some(step) = self.state.frames.step(&procedure) else {
                self.end_of_block(&mut out);
                continue;
            };
            if let Some(words) = self.state.stop.take() {
                self.stop(step, (Outcome::Unfinished, words), &mut out);
                continue;
            }
            if !self.state.entered && !self.enter(step, &mut out) {
                continue;
            }
            if self.must_warn(step) {
                break;
            }
            match step.course() {
                Course::Ask(_) => break,
                Course::Compute(compute) => self.compute(step, compute, &mut out),
                Course::State(statement) => self.state_it(step, statement, &mut out),
                Course::Check(check) => self.check(step, check, &mut out),
                Course::Conclude(conclude) => self.conclude(step, conclude, &mut out),
                Course::Diagnose(diagnose) => self.diagnose(step, diagnose, &mut out),
                Course::Repeat(repeat) => self.begin_repeat(step, repeat),
                Course::Each(each) => {
                    self.forget(&each.body);
                    self.begin_loop(LoopKind::Each);
                    self.tank_facts();
                }
                Course::Stop(stop) => {
                    let words = self.message(Some(&stop.text)).unwrap_or_default();
                    let outcome = match stop.outcome {
                        StopOutcome::Failed => Outcome::Failed,
                        StopOutcome::Unfinished => Outcome::Unfinished,
                    };
                    self.stop(step, (outcome, words), &mut out);
                }
            }
        }
        out.events
    }

    /// Takes a fact from the system file; `false` when it must be asked.
    pub(super) fn known_fact(&mut self, at: usize, out: &mut Derived) -> bool {
        let procedure = self.setting.procedure.clone();
        let fact = &procedure.facts[at];
        let system = self.setting.system.clone();
        let from_file = fact.from.as_deref().and_then(|path| system.value(path, self.tank())).cloned();
        let own = self.withdrawn.own_facts.contains(&self.place());
        let from_file = from_file.filter(|value| !own && fact.outside_what_can_be(value, self).is_none());
        let asked_for = own || self.is_asked_for(fact);
        let usual = if asked_for { None } else { fact.usual_value(&self.state.names) };
        let mut entry = self.entry(EntryKind::Fact, out.now);
        let (value, said, provenance) = match (from_file, usual) {
            (Some(value), _) => (value, FROM_SYSTEM_FILE, Provenance::SystemFile),
            (None, Some(value)) => (value, "not asked for: the usual answer stands", Provenance::Assumed),
            (None, None) if asked_for => return false,
            (None, None) => {
                entry.given = Some(NOT_KNOWN.to_string());
                entry.said = Some("not asked for".to_string());
                out.events.push(self.numbered(entry));
                self.state.facts.pop_front();
                self.state
                    .names
                    .absent(&fact.id, format!("{} was not asked for.", procedure.label(&fact.id)));
                return true;
            }
        };
        self.describe(&mut entry, &value);
        entry.said = Some(said.to_string());
        entry.provenance = Some(provenance);
        self.observe(Some(&value), &entry);
        self.state.provenance.insert(fact.id.clone(), provenance);
        let label = procedure.label(&fact.id);
        let limits = value.amount().into_iter().flat_map(Uncertain::components);
        self.state.limits.extend(limits.map(|(source, _)| (*source, format!("limits of {label}"))));
        out.events.push(self.numbered(entry));
        self.state.facts.pop_front();
        self.state.names.set(&fact.id, value);
        true
    }

    /// Whether a fact is asked for where the system file does not have it.
    fn is_asked_for(&self, fact: &Fact) -> bool {
        fact.when.as_ref().is_none_or(|when| when.truth(&self.state.names).map_or(true, |truth| truth.best))
    }

    /// Looks at a step's condition; `false` when the step is left out.
    pub(super) fn enter(&mut self, step: &Step, out: &mut Derived) -> bool {
        match step.when.as_ref().map(|when| when.truth(&self.state.names)) {
            Some(Ok(truth)) if !truth.best => {
                return self.not_called_for(step);
            }
            Some(Err(_)) if step.when.as_ref().is_some_and(|when| self.lacks_an_answer(when)) => {
                return self.not_called_for(step);
            }
            Some(Err(unknown)) => {
                let mut entry = self.entry(EntryKind::Skipped, out.now);
                let why = unknown.reason(self.setting.units);
                entry.reason = Some(format!("whether it is called for cannot be told: {why}"));
                out.events.push(self.numbered(entry));
                self.state.names.absent(&step.id, why.to_string());
                self.next_step();
                return false;
            }
            Some(Ok(_)) | None => {}
        }
        if self.is_not_recorded(step) || self.lacks_what_it_needs(step) {
            return self.not_called_for(step);
        }
        if let Some(title) = &step.title {
            self.state.section = Some(title.filled(&self.state.names, self.setting.units));
        }
        self.state.entered = true;
        self.state.warned.come_to();
        true
    }

    /// Whether a step asks only for what an earlier record tells, and none does.
    fn is_not_recorded(&self, step: &Step) -> bool {
        let Some(asks) = step.course().asks() else { return false };
        let only = asks.shows().if_recorded.map(|only| only.truth(&self.state.names));
        let recalled = |observable: &str| AtHand::recalled(self, observable).is_some();
        only.is_some_and(|only| only.is_ok_and(|truth| truth.best))
            && !asks.gives().and_then(|gives| gives.recall).is_some_and(recalled)
    }

    /// Whether a step that only says something needs what nobody answered.
    fn lacks_what_it_needs(&self, step: &Step) -> bool {
        let names = &self.state.names;
        step.asks_by_itself().into_iter().any(|needed| match needed {
            Needed::Value(expr) => expr.value(names).is_err_and(|unknown| unknown.is_unanswered()),
            Needed::Shown(expr) => expr.value(names).is_err(),
            Needed::Step(id) => names.value(id).is_err_and(|unknown| unknown.is_unanswered()),
        })
    }

    /// Leaves a step out whose condition does not hold.
    fn not_called_for(&mut self, step: &Step) -> bool {
        self.state.names.absent(&step.id, format!("`{}` was not called for.", step.id));
        self.next_step();
        false
    }

    /// Whether a condition is on something that was never answered; it then does not hold.
    fn lacks_an_answer(&self, when: &CheckedExpr) -> bool {
        let mut lacks = false;
        when.expr().names(&mut |name, _| lacks |= self.value(name).is_none());
        lacks
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
        self.state.warned.leave(step);
        for state in &step.undoes {
            self.state.warned.end(self.setting.procedure.hazards_of(state));
        }
        self.state.holding.change(&step.undoes, &step.brings);
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
