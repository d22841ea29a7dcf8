//! From what was seen to what is typed, one attempt after the other.

use super::person::Sighting;
use crate::engine::{AnswerKind, Ask};
use crate::quantity::{Measure, Unit};

/// One thing a person does at a question.
#[derive(Clone, Debug, PartialEq)]
pub enum Attempt {
    /// Types this.
    Type(String),
    /// Leaves the step out.
    Skip,
}

/// Plain numbers that somebody would type who knows nothing better, in the unit that is asked for.
const PLAIN_NUMBERS: &[&str] = &["0", "300", "12", "20", "6", "60"];
/// The same with a unit, where a length is asked for.
const PLAIN_LENGTHS: &[&str] = &["0 ft", "6 in", "60 ft"];

/// What a person types upon what was seen, the truest first.
pub(super) fn attempts(seen: &Sighting, ask: &Ask) -> Vec<Attempt> {
    let typed = |text: &str| Attempt::Type(text.to_string());
    let otherwise = ask.otherwise.iter().filter(|_| *seen == Sighting::Never).map(|(word, _)| typed(word));
    let truest = truest(seen, &ask.expects).map(Attempt::Type);
    let mut attempts: Vec<Attempt> = truest.into_iter().chain(otherwise).collect();
    attempts.extend(fallbacks(ask, *seen == Sighting::Usual));
    attempts
}

/// What was seen, as an answer of that kind; nothing where it is none.
fn truest(seen: &Sighting, expects: &AnswerKind) -> Option<String> {
    let words: &[&str] = if let Sighting::Words(words) = seen { words } else { &[] };
    let word = |offered: &dyn Fn(&str) -> bool| words.iter().find(|it| offered(it)).map(ToString::to_string);
    match expects {
        AnswerKind::Number(measure, unit) => match seen {
            Sighting::Number(si, mark) => Some(number(*measure, *unit, *si, *mark)),
            Sighting::Plain(number) => Some(number.to_string()),
            Sighting::Words(_)
            | Sighting::Never
            | Sighting::Unknown
            | Sighting::Text(_)
            | Sighting::Usual => None,
        },
        AnswerKind::OneOf(_) => word(&|word| expects.choice(word).is_some()),
        AnswerKind::YesNo => word(&|word| ["yes", "no"].contains(&word)),
        AnswerKind::Text(_) => {
            if let Sighting::Text(text) = seen {
                Some(text.to_string())
            } else {
                None
            }
        }
        AnswerKind::Done(_)
        | AnswerKind::Understood
        | AnswerKind::WaitBegins(_)
        | AnswerKind::WaitOver { .. } => None,
    }
}

/// What is left to somebody who does not know: to skip, the usual, whatever can be said. Of what anybody
/// can say something, nothing is skipped.
fn fallbacks(ask: &Ask, anybody_can: bool) -> Vec<Attempt> {
    let typed = |text: &str| Attempt::Type(text.to_string());
    let mut left = Vec::new();
    if ask.can_skip && !anybody_can {
        left.push(Attempt::Skip);
    }
    if ask.usual.is_some() {
        left.push(typed(""));
    }
    match &ask.expects {
        AnswerKind::OneOf(choices) => left.extend(choices.first().map(|choice| typed(&choice.value))),
        AnswerKind::YesNo => left.push(typed("yes")),
        AnswerKind::Text(_) => left.push(typed("none")),
        AnswerKind::Number(measure, _) => {
            left.push(typed("not known"));
            let plain = if *measure == Measure::Length { PLAIN_LENGTHS } else { PLAIN_NUMBERS };
            left.extend(plain.iter().map(|text| typed(text)));
        }
        AnswerKind::Done(_)
        | AnswerKind::Understood
        | AnswerKind::WaitBegins(_)
        | AnswerKind::WaitOver { .. } => {}
    }
    left
}

/// A reading to the nearest mark, in the unit that is asked for.
fn number(measure: Measure, unit: Option<&'static Unit>, si: f64, mark: f64) -> String {
    let Some(unit) = unit else { return format!("{si}") };
    let at_mark = if mark > 0.0 && measure != Measure::Temperature { (si / mark).round() * mark } else { si };
    let number = unit.number_of(measure, at_mark);
    let decimals = if measure == Measure::Temperature { 0 } else { 2 };
    let text = format!("{number:.decimals$}");
    let short = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    format!("{} {}", short, unit.symbol)
}
