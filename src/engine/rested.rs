//! A wait goes on until the reading that follows it: the reading's own time is what counts.

use super::observations::ObservedValue;
use super::run::Run;
use crate::lang::{Value, Values};
use crate::quantity::Uncertain;
use crate::record::{Entry, EntryKind};

impl Run {
    /// Adds to the wait just over the time until this reading.
    pub(super) fn rest_until(&mut self, reading: &Entry) {
        let last = self.answers.last().map(|event| &event.entry);
        let Some(over) = last.filter(|last| last.kind == EntryKind::Waited) else { return };
        if reading.kind != EntryKind::Reading || self.state.frames.repeats() {
            return;
        }
        let (step, more) = (over.step.clone(), reading.at.since(over.at).as_secs_f64());
        let Ok(Value::Amount(measure, waited)) = self.state.names.value(&step) else { return };
        let whole = waited + Uncertain::exact(more);
        let observed = self.state.observations.iter_mut().rev().find(|it| *it.step == *step);
        if let Some(observation) = observed {
            observation.seen = ObservedValue::Number(measure, whole.value());
        }
        self.state.names.set(&step, Value::Amount(measure, whole));
    }
}
