//! What answers, computations and checks do to a run.

use super::findings::Weighed;
use super::run::{Derived, Run};
use crate::lang::{Collapse, Value};
use crate::procedure::{Compute, Statement, Step, time_of};
use crate::quantity::Measure;
use crate::record::{Entry, EntryKind, Grade, Outcome};

impl Run {
    /// An answer takes effect.
    pub(super) fn answer_given(&mut self, entry: &Entry, value: Option<Value>) {
        if let Some(at) = self.state.facts.pop_front() {
            let id = self.setting.procedure.facts[at].id.clone();
            match value {
                Some(value) => self.state.names.set(&id, value),
                None => {
                    let label = self.setting.procedure.label(&id);
                    self.state.names.unknown(&id, format!("{label} is not known."));
                }
            }
            self.state.provenance.extend(entry.provenance.map(|provenance| (id, provenance)));
            return;
        }
        let procedure = self.setting.procedure.clone();
        let Some(step) = self.state.frames.step(&procedure) else { return };
        match entry.kind {
            EntryKind::Skipped => {
                let reason = entry.reason.clone().unwrap_or_default();
                self.state.names.absent(&step.id, format!("`{}` was skipped: {reason}", step.id));
                self.next_step();
            }
            EntryKind::Understood => self.understood(step),
            EntryKind::NotSo => {
                // The step is asked again, or the work ends before anything else is done.
                let otherwise = step.course().asks().and_then(|asks| asks.shows().otherwise);
                self.state.stop = otherwise.filter(|it| it.stops).and(entry.said.clone());
                // What can hurt was told in full above the first answer.
                let shown = self.state.warned.unread(step);
                self.state.warned.begin(&shown);
            }
            EntryKind::WaitBegun => self.state.wait_begun = Some(entry.at),
            EntryKind::Fact
            | EntryKind::Done
            | EntryKind::Reading
            | EntryKind::Choice
            | EntryKind::Text
            | EntryKind::Waited => self.value_given(step, entry, value),
            // Nothing of these is an answer.
            EntryKind::Computed
            | EntryKind::Checked
            | EntryKind::Withdrawn
            | EntryKind::Note
            | EntryKind::Paused
            | EntryKind::Resumed
            | EntryKind::Stopped
            | EntryKind::Message
            | EntryKind::Finding => {}
        }
    }

    /// A value is given at a step, or that it is done.
    fn value_given(&mut self, step: &Step, entry: &Entry, value: Option<Value>) {
        let (Some(value), Some(gives)) = (value, step.course().gives()) else {
            self.done(step);
            return;
        };
        self.state.provenance.extend(entry.provenance.map(|provenance| (step.id.clone(), provenance)));
        if gives.times > 1 {
            self.state.takes.push(value);
            if self.state.takes.len() < gives.times as usize {
                return;
            }
            self.define_takes(step);
        } else {
            self.define(&step.id, value);
        }
        if gives.timed {
            let at = Value::exact(Measure::Instant, entry.at.unix_seconds() as f64);
            self.define(&time_of(&step.id), at);
        }
        self.done(step);
    }

    /// Puts repeated readings under the name of their step: their mean, where rounds come beside.
    fn define_takes(&mut self, step: &Step) {
        let takes = Value::Series(std::mem::take(&mut self.state.takes));
        let sources = takes.sources_of_mean().into_iter().flatten();
        self.state.spreads.extend(sources.map(|source| (source, step.id.clone())));
        match takes.clone().collapsed(Collapse::Mean) {
            Ok(mean) if self.state.frames.repeats() => self.state.names.push(&step.id, mean),
            Ok(_) | Err(_) => self.state.names.set(&step.id, takes),
        }
    }

    pub(super) fn compute(&mut self, step: &Step, compute: &Compute, out: &mut Derived) {
        let mut entry = self.entry(EntryKind::Computed, out.now);
        let how = compute.expr.explained(&self.state.names);
        let result = how.result.clone();
        self.state.limits.extend(how.limits.iter().cloned());
        self.state.explained.insert(step.id.clone(), how);
        if compute.say.is_some() {
            self.state.tells_anew();
        }
        let shown_results = self.state.shown_results.len();
        match result {
            Ok(value) => {
                self.describe(&mut entry, &value);
                self.observe(Some(&value), &entry);
                entry.provenance = self.provenance_of(compute.expr.expr());
                self.define(&step.id, value);
                self.state.names.computed_by(&step.id, &compute.expr);
                self.state
                    .provenance
                    .extend(entry.provenance.map(|provenance| (step.id.clone(), provenance)));
                entry.said = self.message(compute.say.as_ref());
            }
            Err(unknown) => {
                let reason = unknown.reason(self.setting.units).to_string();
                self.state.names.unknown(&step.id, reason.clone());
                let plain = || format!("This cannot be worked out: {}.", reason.trim_end_matches('.'));
                entry.said = match &compute.unsure {
                    Some(unsure) => self.message(Some(unsure)),
                    None => compute.say.as_ref().map(|_| plain()),
                };
                entry.reason = Some(reason);
            }
        }
        if entry.said.is_some() {
            self.state.shown_results.insert(shown_results, step.id.clone());
            self.state.spoken.insert(step.id.clone());
        }
        out.events.push(self.numbered(entry));
        self.done(step);
    }

    pub(super) fn state_it(&mut self, step: &Step, statement: &Statement, out: &mut Derived) {
        let mut entry = self.entry(EntryKind::Message, out.now);
        entry.said = self.message(Some(&statement.text));
        out.events.push(self.numbered(entry));
        self.done(step);
    }

    pub(super) fn stop(&mut self, step: &Step, (outcome, words): (Outcome, String), out: &mut Derived) {
        let mut entry = self.entry(EntryKind::Stopped, out.now);
        entry.said = Some(words.clone());
        let grade = if outcome == Outcome::Failed { Grade::Stop } else { Grade::Act };
        entry.grade = Some(grade);
        let otherwise = step.course().asks().and_then(|asks| asks.shows().otherwise);
        self.leave_as_instructed(step);
        entry.next = self.as_it_stands();
        entry.given = otherwise.and_then(|it| it.finding.clone());
        let name = entry.given.clone();
        self.found(step, Weighed { grade, name, diagnosed: None }, words.clone());
        out.events.push(self.numbered(entry));
        self.state.ended = Some((outcome, words));
    }

    /// What somebody is told to do as the work ends is taken to be done: its states hold.
    fn leave_as_instructed(&mut self, step: &Step) {
        let asks = step.course().asks();
        let left = match asks.and_then(|asks| asks.shows().otherwise) {
            Some(otherwise) => Some((&otherwise.leaves.brings, &otherwise.leaves.undoes)),
            None => step.course().stops().then_some((&step.brings, &step.undoes)),
        };
        if let Some((brings, undoes)) = left {
            self.state.holding.change(undoes, brings);
        }
    }

    /// How things stand now, by the states that hold.
    fn as_it_stands(&self) -> Option<String> {
        let stands = self.stands();
        (!stands.is_empty()).then(|| format!("As the steps left it: {}.", stands.join(", ")))
    }

    /// Says in an entry what a value is.
    pub(super) fn describe(&self, entry: &mut Entry, value: &Value) {
        entry.given = Some(value.shown(self.setting.units));
        if let Value::Amount(measure, amount) = value {
            let unit = self.setting.units.unit_for(*measure);
            let size = unit.map_or(1.0, |unit| unit.size);
            entry.value = Some(unit.map_or(amount.value(), |unit| unit.number_of(*measure, amount.value())));
            entry.unit = unit.map(|unit| unit.symbol.to_string());
            let u = 0.5 * amount.expanded_uncertainty() / size;
            entry.uncertainty = (u > 0.0).then_some(u);
        }
    }
}
