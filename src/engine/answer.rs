//! From what was typed to an entry, or to a refusal that says what is wrong.

use super::ask::{Ask, Choice, Wanted};
use super::run::Run;
use crate::clock::Moment;
use crate::lang::Value;
use crate::procedure::{Action, Fact, Limits, WriteKind};
use crate::quantity::{Family, Measure, Uncertain, Unit, read_number, show_briefly, show_in};
use crate::record::{Entry, EntryKind};
use crate::words::{self, is_done, is_harmless};

/// Why an answer is not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// It cannot be taken; ask again.
    Again(String),
    /// It can be, but is unlikely; ask whether it is meant.
    Doubt(String),
}

impl Refusal {
    fn again<T>(message: impl Into<String>) -> Result<T, Refusal> {
        Err(Refusal::Again(message.into()))
    }
}

/// The most characters a person's text may have where the procedure sets no limit.
const LONGEST_TEXT: u32 = 400;

impl Run {
    /// Turns a typed answer into the entry it makes; `sure` takes an unlikely one.
    pub(super) fn answered(&self, ask: &Ask, typed: &str, sure: bool, now: Moment) -> Result<Entry, Refusal> {
        let typed = typed.trim();
        let typed = if typed.is_empty() { ask.usual.as_deref().unwrap_or("") } else { typed };
        if !is_harmless(typed) {
            return Refusal::again("That holds characters that cannot be shown; type it again.");
        }
        let is_fact = !self.state.facts.is_empty();
        let mut entry = self.entry(EntryKind::Fact, now);
        entry.asked = Some(ask.text.clone());
        entry.given = Some(typed.to_string());
        let kind = match &ask.wanted {
            Wanted::Done(word) => {
                acknowledged(typed, *word)?;
                EntryKind::Done
            }
            Wanted::Number(measure, unit) => {
                self.number(&mut entry, typed, (*measure, *unit), sure)?;
                EntryKind::Reading
            }
            Wanted::YesNo => {
                entry.given = Some(yes_no(typed)?.to_string());
                EntryKind::Choice
            }
            Wanted::OneOf(choices) => {
                entry.given = Some(chosen(typed, choices)?.to_string());
                EntryKind::Choice
            }
            Wanted::Text(kind) => {
                self.written(typed, *kind)?;
                EntryKind::Text
            }
            Wanted::WaitBegins(_) | Wanted::WaitOver(..) => {
                return Refusal::again("This is a wait; it is not answered with words.");
            }
        };
        entry.kind = if is_fact { EntryKind::Fact } else { kind };
        Ok(entry)
    }

    fn number(
        &self,
        entry: &mut Entry,
        typed: &str,
        (measure, unit): (Measure, Option<&'static Unit>),
        sure: bool,
    ) -> Result<(), Refusal> {
        let read = read_number(typed, measure.family()).map_err(|e| Refusal::Again(e.to_string()))?;
        let unit = read.unit.or(unit);
        let si = unit.map_or(read.number, |unit| unit.to_si(measure, read.number));
        if measure == Measure::Temperature && si < 0.0 {
            return Refusal::again("That is colder than anything can be.");
        }
        if measure == Measure::Count && (read.number < 0.0 || read.number.fract() != 0.0) {
            return Refusal::again("A whole number is wanted here.");
        }
        let (between, expect, gauge) = self.limits();
        // A share is shown as it was typed, other values in the household's unit.
        let typed_in = unit.filter(|unit| unit.family == Family::Number);
        let shown = |si: f64| match typed_in {
            Some(unit) => show_in(measure, &Uncertain::exact(si), unit),
            None => self.shown(measure, si),
        };
        if let Some((low, high)) = self.outside(between, si, typed_in) {
            return Refusal::again(format!("{} is outside what can be: {low} to {high}.", shown(si)));
        }
        if let Some((low, high)) = self.outside(expect, si, typed_in).filter(|_| !sure) {
            return Err(Refusal::Doubt(format!(
                "{} would be unusual here; {low} to {high} is usual.",
                shown(si)
            )));
        }
        let gauge_known = gauge.and_then(|id| self.setting.system.gauge(id));
        if let Some(gauge) = gauge_known.filter(|_| !sure)
            && let Some(span) = gauge.span.filter(|span| si > *span * (1.0 + 1e-9))
        {
            return Err(Refusal::Doubt(format!(
                "The {} only goes to {}, by your system file.",
                gauge.called(),
                self.shown(measure, span)
            )));
        }
        entry.value = Some(read.number);
        entry.unit = unit.map(|unit| unit.symbol.to_string());
        entry.uncertainty = gauge_known.map(|gauge| {
            let u = gauge.accuracy_u(si).hypot(gauge.resolution_u());
            u / unit.map_or(1.0, |unit| unit.size)
        });
        entry.gauge = gauge.map(ToString::to_string);
        Ok(())
    }

    fn shown(&self, measure: Measure, si: f64) -> String {
        show_briefly(measure, &Uncertain::exact(si), self.setting.units)
    }

    /// The limits and the gauge of the reading that is waited for.
    fn limits(&self) -> (Option<&Limits>, Option<&Limits>, Option<&str>) {
        let procedure = &self.setting.procedure;
        if let Some(at) = self.state.facts.front() {
            return (procedure.facts[*at].between.as_ref(), None, None);
        }
        match self.state.frames.step(procedure).map(|step| &step.action) {
            Some(Action::Read(read)) => (read.between.as_ref(), read.expect.as_ref(), read.gauge.as_deref()),
            _ => (None, None, None),
        }
    }

    /// The limits of a fact, shown, when a value of the system file lies outside them.
    pub(super) fn outside_what_can_be(&self, fact: &Fact, value: &Value) -> Option<(String, String)> {
        self.outside(fact.between.as_ref(), value.amount()?.value(), None)
    }

    /// Both limits, shown, when the value lies outside them; a limit not known does not bind.
    fn outside(&self, limits: Option<&Limits>, si: f64, unit: Option<&Unit>) -> Option<(String, String)> {
        let limits = limits?;
        let value = |expr: &crate::lang::Checked| expr.value(&self.state.names).ok();
        let (low, high) = (value(&limits.low), value(&limits.high));
        let beyond = |limit: &Option<Value>, sign: f64| {
            let limit = limit.as_ref().and_then(|value| value.amount()).map(Uncertain::value);
            limit.is_some_and(|limit| sign * (si - limit) > 1e-9 * limit.abs().max(1.0))
        };
        if !beyond(&low, -1.0) && !beyond(&high, 1.0) {
            return None;
        }
        let shown = |limit: Option<Value>| match (limit, unit) {
            (Some(Value::Amount(measure, limit)), Some(unit)) => show_in(measure, &limit, unit),
            (Some(limit), _) => limit.shown(self.setting.units),
            (None, _) => "any".to_string(),
        };
        Some((shown(low), shown(high)))
    }

    fn written(&self, typed: &str, kind: WriteKind) -> Result<(), Refusal> {
        let longest = match self.state.frames.step(&self.setting.procedure).map(|step| &step.action) {
            Some(Action::Write(write)) if self.state.facts.is_empty() => write.longest,
            _ => LONGEST_TEXT,
        };
        if typed.is_empty() {
            return Refusal::again("Nothing was typed.");
        }
        if typed.chars().count() > longest as usize {
            return Refusal::again(format!("That is longer than {longest} characters; say it shorter."));
        }
        if kind == WriteKind::Date && Moment::parse(&format!("{typed}T00:00:00Z")).is_none() {
            return Refusal::again("Write the date as year-month-day, such as 2031-04-05.");
        }
        Ok(())
    }
}

fn acknowledged(typed: &str, word: Option<&str>) -> Result<(), Refusal> {
    match word {
        Some(word) if !typed.eq_ignore_ascii_case(word) => {
            Refusal::again(format!("Type the word {word} when you have read the danger and done this."))
        }
        None if !is_done(typed) => Refusal::again("Press Enter when it is done; `note` adds a remark."),
        _ => Ok(()),
    }
}

fn yes_no(typed: &str) -> Result<&'static str, Refusal> {
    const BOTH: [(&str, &str); 2] = [("yes", "yes"), ("no", "no")];
    match words::chosen(typed, &BOTH) {
        Some(at) => Ok(BOTH[at].0),
        None => Refusal::again("Answer yes or no."),
    }
}

/// The choice a person means.
fn chosen<'a>(typed: &str, choices: &'a [Choice]) -> Result<&'a str, Refusal> {
    let options: Vec<(&str, &str)> = choices.iter().map(|c| (c.value.as_str(), c.label.as_str())).collect();
    match words::chosen(typed, &options) {
        Some(at) => Ok(&choices[at].value),
        None => {
            let values: Vec<&str> = options.iter().map(|(value, _)| *value).collect();
            Refusal::again(format!("Answer {}.", words::list(&values, "or")))
        }
    }
}
