//! From what was typed to an entry, and from an entry to the value it stands for.

use super::at_hand::RunAtHand;
use super::run::{Run, Waiting};
use crate::clock::Moment;
use crate::lang::Value;
use crate::procedure::{ACKNOWLEDGE, Accepted, Answer, Refusal};
use crate::quantity::{Kind, Truth, unit};
use crate::record::{Entry, EntryKind};
use crate::words::is_harmless;

impl Run {
    /// Turns a typed answer into the entry it makes; `sure` takes an unlikely one.
    pub(super) fn answered(&self, typed: &str, sure: bool, now: Moment) -> Result<Entry, Refusal> {
        let (Some(waiting), Some(ask)) = (self.waiting(), self.ask()) else {
            return Refusal::again("The run has ended.");
        };
        let typed = typed.trim();
        let typed = if typed.is_empty() { ask.usual.as_deref().unwrap_or("") } else { typed };
        if !is_harmless(typed) {
            return Refusal::again("That holds characters that cannot be shown; type it again.");
        }
        let answer = Answer { typed, sure };
        let (kind, taken) = match waiting {
            Waiting::Fact(fact) => (Some(EntryKind::Fact), fact.take(&answer, &RunAtHand(self))?),
            Waiting::Warning(_) => (None, understood(typed)?),
            Waiting::Step(_, asks) => (None, asks.take(&answer, &RunAtHand(self))?),
        };
        let mut entry = self.entry(kind.unwrap_or(taken.kind), now);
        if entry.kind == EntryKind::Understood {
            entry.warned = ask.warned.iter().map(ToString::to_string).collect();
        } else {
            entry.asked = Some(ask.text);
        }
        entry.given = Some(taken.given);
        if let Some(number) = taken.number {
            entry.value = Some(number.value);
            entry.unit = number.unit.map(|unit| unit.symbol.to_string());
            entry.uncertainty = number.uncertainty;
            entry.gauge = number.gauge;
        }
        Ok(entry)
    }

    /// The value that an answer stands for, if any.
    pub(super) fn value_of(&self, entry: &Entry) -> Option<Value> {
        if entry.kind == EntryKind::Skipped {
            return None;
        }
        let kind = match self.waiting()? {
            Waiting::Fact(fact) => fact.kind.clone(),
            Waiting::Warning(_) => return None,
            Waiting::Step(_, asks) => asks.gives()?.kind,
        };
        match kind {
            Kind::Measure(measure) => {
                let number = entry.value?;
                let unit = entry.unit.as_deref().and_then(unit);
                let si = unit.map_or(number, |unit| unit.to_si(measure, number));
                Some(Value::Amount(
                    measure,
                    self.setting.with_uncertainty(si, entry.gauge.as_deref(), entry.n),
                ))
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
