//! A fact as the engine gets it: what is asked before the first step, and how it is answered.

use std::sync::Arc;

use super::answers::{self, Asked, LONGEST_TEXT, outside};
use super::observables::Observable;
use super::question::{
    Accepted, Answer, AnswerKind, AskedChoice, AtHand, Limits, Question, Refusal, WriteKind,
};
use crate::lang::{CheckedExpr, Value, Values};
use crate::quantity::{Kind, Truth, Uncertain, show_roundly};
use crate::record::EntryKind;

/// What stands for a fact that nobody knows.
pub(crate) const NOT_KNOWN: &str = "not known";

/// What people type for it.
const NOT_KNOWN_WORDS: &[&str] =
    &[NOT_KNOWN, "unknown", "don't know", "dont know", "i don't know", "no idea", "not readable"];

/// Something true before the run starts.
#[derive(Clone, Debug)]
pub struct Fact {
    /// Its name.
    pub id: Arc<str>,
    /// What a person calls it; else its name.
    pub label: Option<String>,
    /// What it is.
    pub kind: Kind,
    /// What it is of.
    pub observes: Option<&'static Observable>,
    /// The question, when it must be asked.
    pub ask: String,
    /// Where the system file may have it.
    pub from: Option<Arc<str>>,
    /// The range outside which an answer is refused.
    pub between: Option<Limits>,
    /// What an empty answer means.
    pub usual: Option<Usual>,
    /// Whether `not known` is an answer.
    pub unknown: bool,
    /// It is only asked for when this holds; else the usual answer stands.
    pub when: Option<CheckedExpr>,
    /// Why it is asked.
    pub why: Option<String>,
}

impl Fact {
    /// What a person calls it.
    pub fn name(&self) -> String {
        self.label.clone().unwrap_or_else(|| self.id.replace('_', " "))
    }

    /// Whether the system file has it for each tank.
    pub fn is_about_a_tank(&self) -> bool {
        self.from.as_ref().is_some_and(|path| path.starts_with("tank."))
    }

    /// Whether it is the smallest mark of a gauge: not asked beside a system file, which tells of gauges.
    pub fn marks_a_gauge(&self) -> bool {
        self.observes.and_then(Observable::marks).is_some()
    }

    /// The question, and what an empty answer to it means.
    pub fn question(&self, at_hand: &dyn AtHand) -> Question {
        let expects = match &self.kind {
            Kind::Measure(measure) => AnswerKind::Number(*measure, at_hand.units().unit_for(*measure)),
            Kind::YesNo => AnswerKind::YesNo,
            Kind::Text => AnswerKind::Text(WriteKind::Text),
            Kind::OneOf(words) => {
                let words = words.iter().map(ToString::to_string);
                let choices = words.map(|value| AskedChoice { label: value.clone(), value, help: None });
                AnswerKind::OneOf(choices.collect())
            }
        };
        let usual = self.usual.as_ref().and_then(|usual| match usual {
            Usual::Word(word) => Some(word.clone()),
            Usual::Value(expr) => Some(match expr.value(at_hand.values()).ok()? {
                // In other units than the file's a round number stays one.
                Value::Amount(measure, amount) => show_roundly(measure, &amount, at_hand.units()),
                value @ (Value::Truth(_) | Value::Text(_) | Value::Series(_)) => value.shown(at_hand.units()),
            }),
        });
        let or = if self.unknown { format!(" (or `{NOT_KNOWN}`)") } else { String::new() };
        Question { usual, ..Question::new(format!("{}{or}", self.ask), expects) }
    }

    /// How an answer is taken.
    ///
    /// # Errors
    /// [`Refusal`], with what is wrong with it.
    pub fn take(&self, answer: &Answer<'_>, at_hand: &dyn AtHand) -> Result<Accepted, Refusal> {
        if self.is_not_known(Some(answer.typed)) {
            return Ok(Accepted::words(EntryKind::Fact, NOT_KNOWN));
        }
        match &self.kind {
            Kind::Measure(measure) => {
                let (measure, unit) = (*measure, at_hand.units().unit_for(*measure));
                let between = self.between.as_ref();
                answers::number(&Asked { measure, unit, between, expect: None, gauge: None }, answer, at_hand)
            }
            Kind::YesNo => answers::yes_no(answer.typed),
            Kind::Text => answers::written(answer.typed, WriteKind::Text, LONGEST_TEXT),
            Kind::OneOf(words) => {
                let words: Vec<&str> = words.iter().map(AsRef::as_ref).collect();
                answers::chosen(answer.typed, &words)
            }
        }
    }

    /// Whether an answer says that the fact is not known.
    pub fn is_not_known(&self, given: Option<&str>) -> bool {
        let said = |given: &str| NOT_KNOWN_WORDS.iter().any(|word| given.trim().eq_ignore_ascii_case(word));
        self.unknown && given.is_some_and(said)
    }

    /// The limits, shown, when a value lies outside them.
    pub fn outside_what_can_be(&self, value: &Value, at_hand: &dyn AtHand) -> Option<(String, String)> {
        outside(self.between.as_ref()?, value.amount().map(Uncertain::value)?, None, at_hand)
    }

    /// What stands when it is not asked for.
    pub fn usual_value(&self, values: &dyn Values) -> Option<Value> {
        match self.usual.as_ref()? {
            Usual::Value(expr) => expr.value(values).ok(),
            Usual::Word(word) if self.kind == Kind::YesNo => {
                Some(Value::Truth(Truth::certain(word == "yes")))
            }
            Usual::Word(word) => Some(Value::text(word)),
        }
    }
}

/// Which observables are the smallest mark of a gauge, each with the name of that.
const MARKS: [(&str, &str); 2] = [("line_mark", "line"), ("air_mark", "air")];

impl Observable {
    /// The gauge of which it is the smallest mark.
    pub fn marks(&self) -> Option<&'static str> {
        MARKS.iter().find(|(name, _)| *name == self.name).map(|(_, gauge)| *gauge)
    }
}

/// What an empty answer to a fact means.
#[derive(Clone, Debug)]
pub enum Usual {
    /// This value.
    Value(CheckedExpr),
    /// This word or text.
    Word(String),
}
