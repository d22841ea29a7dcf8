//! Rounds: how loops begin, come round and end.

use std::sync::Arc;

use super::frames::{Frame, Loop, names_of};
use super::run::{Event, Run};
use crate::clock::Moment;
use crate::lang::Value;
use crate::procedure::{Action, Repeat, Step};
use crate::record::{EntryKind, Outcome};

impl Run {
    /// Facts about the tank are looked up again for each tank.
    pub(super) fn tank_facts(&mut self) {
        let about_tank =
            |from: &Option<Arc<str>>| from.as_ref().is_some_and(|path| path.starts_with("tank."));
        let facts = self.setting.procedure.facts.iter().enumerate();
        self.state.facts = facts.filter(|(_, fact)| about_tank(&fact.from)).map(|(at, _)| at).collect();
    }

    pub(super) fn begin_repeat(&mut self, repeat: &Repeat) {
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

    pub(super) fn begin_loop(&mut self, which: Loop) {
        self.state.frames.0.push(Frame::new(which));
        self.state.entered = false;
    }

    pub(super) fn forget(&mut self, body: &[Step]) {
        names_of(body, &mut |name| self.state.names.clear(name));
    }

    pub(super) fn end_of_block(&mut self, now: Moment, events: &mut Vec<Event>) {
        match self.state.frames.0.last().map(|frame| frame.which) {
            None | Some(Loop::Root) => {
                self.state.ended =
                    Some((Outcome::Completed, "The procedure was walked to its end.".to_string()));
            }
            Some(Loop::Repeat) => self.end_of_round(now, events),
            Some(Loop::Each) => self.end_of_tank(),
        }
    }

    pub(super) fn end_of_round(&mut self, now: Moment, events: &mut Vec<Event>) {
        let procedure = self.setting.procedure.clone();
        let Some(frame) = self.state.frames.0.pop() else { return };
        let Some(step) = self.state.frames.step(&procedure) else { return };
        let Action::Repeat(repeat) = &step.action else { return };
        if let Some(said) = self.told(repeat.say.as_ref()) {
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

    pub(super) fn end_of_tank(&mut self) {
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
