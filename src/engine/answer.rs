//! From what was typed to an entry, and from an entry to the value it stands for.

use super::run::{Run, Waiting};
use crate::clock::Moment;
use crate::lang::Value;
use crate::procedure::{ACKNOWLEDGE, Accepted, Answer, Refusal};
use crate::quantity::{Kind, SourceId, Truth, unit};
use crate::record::{Entry, EntryKind, Provenance};
use crate::words::is_harmless;

impl Run {
    /// Turns a typed answer into the entry it makes.
    pub(super) fn answered(&self, answer: &Answer<'_>, now: Moment) -> Result<Entry, Refusal> {
        let (Some(waiting), Some(ask)) = (self.waiting(), self.ask()) else {
            return Refusal::again("The run has ended.");
        };
        let (typed, sure) = (answer.typed.trim(), answer.sure);
        let provenance = self.provenance(waiting, typed.is_empty());
        let typed = if typed.is_empty() { ask.usual.as_deref().unwrap_or("") } else { typed };
        if !is_harmless(typed) {
            return Refusal::again("That holds characters that cannot be shown; type it again.");
        }
        let conflict = self.in_conflict(waiting, typed);
        if let Some(why) = conflict.as_ref().filter(|_| !sure) {
            return Err(Refusal::Unusual(why.clone()));
        }
        let unlikely = match self.take_answer(waiting, &Answer { typed, sure: false }) {
            Err(Refusal::Unusual(why)) if sure => Some(why),
            Ok(_) | Err(_) => None,
        };
        let (kind, accepted) = self.take_answer(waiting, &Answer { typed, sure })?;
        let mut entry = self.entry(kind.unwrap_or(accepted.kind), now);
        if entry.kind == EntryKind::Understood {
            entry.warned = ask.warned.iter().map(ToString::to_string).collect();
        } else {
            if let Waiting::Step(step, _) = waiting
                && self.state.takes.is_empty()
            {
                entry.warned = self.messages(step).iter().map(ToString::to_string).collect();
            }
            entry.asked = Some(ask.text);
        }
        entry.given = Some(accepted.given);
        entry.said = accepted.said;
        entry.reason = conflict.or(unlikely).map(|why| format!("Confirmed. {why}"));
        entry.provenance = provenance.filter(|_| !entry.kind.is_without_value());
        if let Some(number) = accepted.number {
            entry.value = Some(number.value);
            entry.unit = number.unit.map(|unit| unit.symbol.to_string());
            entry.uncertainty = number.uncertainty;
            entry.gauge = number.gauge;
        }
        Ok(entry)
    }

    fn take_answer(
        &self,
        waiting: Waiting<'_>,
        answer: &Answer<'_>,
    ) -> Result<(Option<EntryKind>, Accepted), Refusal> {
        Ok(match waiting {
            Waiting::Fact(fact) => (Some(EntryKind::Fact), fact.take(answer, self)?),
            Waiting::Warning(_) => (None, understood(answer.typed)?),
            Waiting::Step(_, asks) => (None, asks.answered(answer, self)?),
        })
    }

    /// What makes an answer one that cannot be right beside others, if it could be taken at all.
    fn in_conflict(&self, waiting: Waiting<'_>, typed: &str) -> Option<String> {
        let observable = self.observable()?;
        let (_, accepted) = self.take_answer(waiting, &Answer { typed, sure: true }).ok()?;
        self.conflict((observable, self.tells()), &accepted)
    }

    /// Where an answer comes from, typed or kept as it was offered.
    fn provenance(&self, waiting: Waiting<'_>, kept: bool) -> Option<Provenance> {
        Some(match waiting {
            Waiting::Fact(fact) if kept && !fact.observes.is_some_and(|it| it.chosen) => Provenance::Assumed,
            Waiting::Fact(_) => Provenance::Chosen,
            Waiting::Warning(_) => return None,
            Waiting::Step(_, asks) => match asks.gives()?.kind {
                Kind::Measure(_) if kept => Provenance::Recalled,
                Kind::Measure(_) => Provenance::Measured,
                Kind::YesNo | Kind::OneOf(_) | Kind::Text => Provenance::Chosen,
            },
        })
    }

    /// The value that an answer stands for, if any.
    pub(super) fn value_of(&self, entry: &Entry) -> Option<Value> {
        if entry.kind.is_without_value() {
            return None;
        }
        let kind = match self.waiting()? {
            Waiting::Fact(fact) if fact.is_not_known(entry.given.as_deref()) => return None,
            Waiting::Fact(fact) => fact.kind.clone(),
            Waiting::Warning(_) => return None,
            Waiting::Step(_, asks) => asks.gives()?.kind,
        };
        match kind {
            Kind::Measure(measure) => {
                let number = entry.value?;
                let unit = entry.unit.as_deref().and_then(unit);
                let si = unit.map_or(number, |unit| unit.to_si(measure, number));
                // What a gauge shows at rest is looked at for its own sake: its error is what is read.
                let itself = entry.observes.as_deref() == Some("resting_gauge");
                let gauge = entry.gauge.as_deref().filter(|_| !itself);
                let amount = self.with_uncertainty(si, gauge, entry.n);
                // What was said to be off by so much, without a gauge.
                let stated = entry.uncertainty.filter(|_| entry.gauge.is_none());
                let size = unit.map_or(1.0, |unit| unit.size);
                let u = stated.unwrap_or(0.0) * size;
                Some(Value::Amount(measure, amount.with_component(SourceId::Reading(entry.n), u)))
            }
            Kind::YesNo => Some(Value::Truth(Truth::certain(entry.given.as_deref() == Some("yes")))),
            Kind::OneOf(_) | Kind::Text => entry.given.as_deref().map(Value::text),
        }
    }
}

/// Takes the word that a warning was read, and nothing else.
fn understood(typed: &str) -> Result<Accepted, Refusal> {
    if typed.eq_ignore_ascii_case(ACKNOWLEDGE) {
        Ok(Accepted::words(EntryKind::Understood, ACKNOWLEDGE))
    } else {
        Refusal::again(format!("Type the word {ACKNOWLEDGE} when you have read it."))
    }
}
