//! Rounds: how loops begin, come round and end.

use std::sync::Arc;

use super::frames::Frame;
use super::run::{Derived, Run};
use crate::lang::{Value, Values};
use crate::procedure::{LoopKind, Repeat, Step, flat};
use crate::record::{EntryKind, Outcome};

impl Run {
    /// Facts about the tank are looked up again for each tank; what is known of it already stands.
    /// Outside of an `each` they are of the tank the run was begun with.
    pub(super) fn tank_facts(&mut self) {
        let before = self.state.facts_of.unwrap_or(self.setting.tank);
        let tank = self.state.frames.tank().unwrap_or(self.setting.tank);
        let procedure = self.setting.procedure.clone();
        let about_tank = procedure.facts.iter().enumerate().filter(|(_, fact)| fact.is_about_a_tank());
        for (at, fact) in about_tank {
            if let Ok(value) = self.state.names.value(&fact.id) {
                self.state.known_of_tanks.insert((before, fact.id.clone()), value);
            }
            match self.state.known_of_tanks.get(&(tank, fact.id.clone())) {
                Some(value) => self.state.names.set(&fact.id, value.clone()),
                None => self.state.facts.push_back(at),
            }
        }
        self.state.facts_of = Some(tank);
    }

    pub(super) fn begin_repeat(&mut self, step: &Step, repeat: &Repeat) {
        let ends_at_once =
            repeat.at_least == 0 && repeat.until.truth(&self.state.names).is_ok_and(|truth| truth.best);
        self.forget(&repeat.body);
        if ends_at_once {
            self.done(step);
        } else {
            self.begin_loop(LoopKind::Repeat);
        }
    }

    pub(super) fn begin_loop(&mut self, which: LoopKind) {
        self.state.frames.0.push(Frame::new(Some(which)));
        self.state.entered = false;
    }

    pub(super) fn forget(&mut self, body: &[Step]) {
        flat(body).flat_map(Step::names).for_each(|name| self.state.names.clear(&name));
    }

    /// The end of a block: of the work, of a round, or of what is done for a tank.
    pub(super) fn end_of_block(&mut self, out: &mut Derived) {
        let procedure = self.setting.procedure.clone();
        let Some(frame) = self.state.frames.0.pop() else { return };
        let Some(step) = self.state.frames.step(&procedure) else {
            let words = self.state.findings.last_word();
            self.state.ended = Some((Outcome::Completed, words));
            return;
        };
        // Nothing but loops has a block that could end.
        if let Some(repeat) = step.course().repeats() {
            self.end_of_round(step, repeat, frame, out);
        } else {
            self.end_of_tank(step, frame);
        }
    }

    fn end_of_round(&mut self, step: &Step, repeat: &Repeat, frame: Frame, out: &mut Derived) {
        if let Some(said) = self.message(repeat.say.as_ref()) {
            let mut entry = self.entry(EntryKind::Computed, out.now);
            entry.round.push(frame.round);
            entry.said = Some(said);
            out.events.push(self.numbered(entry));
        }
        let holds = repeat.until.truth(&self.state.names).is_ok_and(|truth| truth.best);
        if (holds && frame.round >= repeat.at_least) || frame.round >= repeat.at_most {
            self.done(step);
        } else {
            self.state.frames.0.push(Frame { at: 0, round: frame.round + 1, ..frame });
            self.state.entered = false;
        }
    }

    fn end_of_tank(&mut self, step: &Step, mut frame: Frame) {
        let names = &mut self.state.names;
        for name in flat(step.body()).flat_map(Step::names) {
            if let Some(value) = names.collapsed(&name) {
                frame.per_tank.entry(Arc::from(&*name)).or_default().push(value);
            }
            names.clear(&name);
        }
        if (frame.round as usize) < self.setting.system.tanks.len() {
            self.state.frames.0.push(Frame { at: 0, round: frame.round + 1, ..frame });
            self.state.entered = false;
            self.tank_facts();
        } else {
            for (name, values) in frame.per_tank {
                self.state.names.set(&name, Value::Series(values));
            }
            self.done(step);
            self.tank_facts();
        }
    }
}
