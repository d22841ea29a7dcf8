//! How answers are read: one reader for each kind of answer, used by verbs and facts alike.

use super::question::{Accepted, Answer, AtHand, GaugeAt, Limits, Number, Refusal, WriteKind};
use crate::clock::Moment;
use crate::lang::{CheckedExpr, Value};
use crate::quantity::{
    Family, Measure, Uncertain, Unit, Units, read_with_limit, rectangular_u, show_briefly, show_in,
};
use crate::record::EntryKind;
use crate::words::{is_done, list};

/// The most characters a person's text may have where the procedure sets no limit.
pub(super) const LONGEST_TEXT: u32 = 400;

/// A number that is asked for.
pub(super) struct Asked<'a> {
    pub measure: Measure,
    /// The unit a bare number is taken in.
    pub unit: Option<&'static Unit>,
    /// Outside these an answer is refused.
    pub between: Option<&'a Limits>,
    /// Outside these an answer is questioned.
    pub expect: Option<&'a Limits>,
    pub gauge: Option<&'a str>,
}

/// Reads a number and holds it against its limits and its gauge.
pub(super) fn number(
    asked: &Asked<'_>,
    answer: &Answer<'_>,
    at_hand: &dyn AtHand,
) -> Result<Accepted, Refusal> {
    let measure = asked.measure;
    let read = read_with_limit(answer.typed, measure.family()).map_err(|e| Refusal::Again(e.to_string()));
    let (read, limit) = read?;
    let unit = read.unit.or(asked.unit);
    let si = unit.map_or(read.number, |unit| unit.to_si(measure, read.number));
    possible(measure, read.number, si)?;
    // A share is shown as it was typed, other values in the household's unit.
    let typed_in = unit.filter(|unit| unit.family == Family::Number);
    let shown = || match typed_in {
        Some(unit) => show_in(measure, &Uncertain::exact(si), unit),
        None => show_briefly(measure, &Uncertain::exact(si), at_hand.units()),
    };
    let outside =
        |limits: Option<&Limits>| limits.and_then(|limits| outside(limits, (si, typed_in), at_hand));
    if let Some((low, high)) = outside(asked.between) {
        return Refusal::again(format!("{} is outside what can be: {low} to {high}.", shown()));
    }
    if let Some((low, high)) = outside(asked.expect).filter(|_| !answer.sure) {
        let message = format!("{} would be unusual here; {low} to {high} is usual.", shown());
        return Err(Refusal::Unusual(message));
    }
    // Who says how far a number may be off knows it better than the table of gauges.
    let name = asked.gauge.filter(|_| limit.is_none());
    let gauge = name.and_then(|name| at_hand.gauge(name, si));
    if let Some(gauge) = gauge.as_ref().filter(|_| !answer.sure) {
        within_its_span(gauge, measure, si, at_hand.units())?;
    }
    let size = unit.map_or(1.0, |unit| unit.size);
    let number = Number {
        value: read.number,
        unit,
        uncertainty: limit.map(rectangular_u).or(gauge.map(|gauge| gauge.uncertainty / size)),
        gauge: name.map(ToString::to_string),
    };
    Ok(Accepted { number: Some(number), ..Accepted::words(EntryKind::Reading, answer.typed) })
}

/// Refuses what no measure can be.
fn possible(measure: Measure, number: f64, si: f64) -> Result<(), Refusal> {
    if measure == Measure::Temperature && si < 0.0 {
        return Refusal::again("That is colder than anything can be.");
    }
    if measure == Measure::Count && (number < 0.0 || number.fract() != 0.0) {
        return Refusal::again("A whole number is wanted here.");
    }
    Ok(())
}

fn within_its_span(gauge: &GaugeAt, measure: Measure, si: f64, units: Units) -> Result<(), Refusal> {
    match gauge.span.filter(|span| si > *span * (1.0 + 1e-9)) {
        None => Ok(()),
        Some(span) => Err(Refusal::Unusual(format!(
            "The {} only goes to {}, by your system file.",
            gauge.called,
            show_briefly(measure, &Uncertain::exact(span), units)
        ))),
    }
}

/// Both limits, shown in the unit or as usual, when a value in SI lies outside them; a limit not
/// known does not bind.
pub(super) fn outside(
    limits: &Limits,
    (si, unit): (f64, Option<&Unit>),
    at_hand: &dyn AtHand,
) -> Option<(String, String)> {
    let value = |expr: &CheckedExpr| expr.value(at_hand.values()).ok();
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
        (Some(limit), _) => limit.shown(at_hand.units()),
        (None, _) => "any".to_string(),
    };
    Some((shown(low), shown(high)))
}

/// Takes that something is done; where a word must be seen and typed, only by that.
pub(super) fn done(typed: &str, word: Option<&str>) -> Result<Accepted, Refusal> {
    match word {
        Some(word) if !typed.eq_ignore_ascii_case(word) => {
            Refusal::again(format!("Type {word} when you see that it is so."))
        }
        None if !is_done(typed) => Refusal::again("Press Enter when it is done; `note` adds a remark."),
        Some(_) | None => Ok(Accepted::words(EntryKind::Done, typed)),
    }
}

/// Takes a yes or no.
pub(super) fn yes_no(typed: &str) -> Result<Accepted, Refusal> {
    one_of(typed, &["yes", "no"]).map_or_else(|| Refusal::again("Answer yes or no."), Ok)
}

/// Takes the word a person means.
pub(super) fn chosen(typed: &str, words: &[&str]) -> Result<Accepted, Refusal> {
    let refused = || Refusal::again(format!("Answer {}.", list(words, "or")));
    one_of(typed, words).map_or_else(refused, Ok)
}

fn one_of(typed: &str, words: &[&str]) -> Option<Accepted> {
    let options: Vec<(&str, &str)> = words.iter().map(|word| (*word, *word)).collect();
    let at = crate::words::chosen(typed, &options)?;
    Some(Accepted::words(EntryKind::Choice, words[at]))
}

/// Takes a text of a sort, no longer than so many characters.
pub(super) fn written(typed: &str, kind: WriteKind, longest: u32) -> Result<Accepted, Refusal> {
    if typed.is_empty() {
        return Refusal::again("Nothing was typed.");
    }
    if typed.chars().count() > longest as usize {
        return Refusal::again(format!("That is longer than {longest} characters; say it shorter."));
    }
    if kind == WriteKind::Date && Moment::parse(&format!("{typed}T00:00:00Z")).is_none() {
        return Refusal::again("Write the date as year-month-day, such as 2031-04-05.");
    }
    Ok(Accepted::words(EntryKind::Text, typed))
}
