//! The question a run waits on.

use std::sync::Arc;
use std::time::Duration;

use super::run::Run;
use super::setting::ACKNOWLEDGE;
use crate::clock::Moment;
use crate::lang::{Template, Value};
use crate::procedure::{Action, Fact, Step, Usual, WriteKind};
use crate::quantity::{DAY, Kind, Measure, Unit};

/// Where in a procedure an answer belongs.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Default)]
pub struct Place {
    /// The step's or fact's id.
    pub step: Arc<str>,
    /// The round of each loop around it, outermost first, from 1.
    pub round: Vec<u32>,
    /// Which of several readings, from 1; `None` when only one is taken.
    pub take: Option<u32>,
}

/// One of the words to choose from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// The word.
    pub value: String,
    /// What the person sees.
    pub label: String,
    /// What it means, at length.
    pub help: Option<String>,
}

/// What kind of answer is waited for.
#[derive(Clone, Debug, PartialEq)]
pub enum Wanted {
    /// That it is done; for a danger with this word.
    Done(Option<&'static str>),
    /// A number of a measure; a bare one is taken in the unit.
    Number(Measure, Option<&'static Unit>),
    /// Yes or no.
    YesNo,
    /// One of these.
    OneOf(Vec<Choice>),
    /// Free text, a date, a file's path.
    Text(WriteKind),
    /// That a wait begins; how long it will be.
    WaitBegins(Duration),
    /// That a wait is over: its length, when it began, whether it may end early.
    WaitOver(Duration, Moment, bool),
}

/// A question.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    /// Where the answer belongs.
    pub place: Place,
    /// Which round of each loop around it, in words: `round 3`, `tank cellar`.
    pub rounds: Vec<String>,
    /// Of how many readings this is one.
    pub takes: u32,
    /// The heading of the part of the work it belongs to.
    pub section: Option<String>,
    /// The question or the instruction.
    pub text: String,
    /// What shows that it went right.
    pub see: Option<String>,
    /// The danger to be acknowledged.
    pub danger: Option<String>,
    /// Why it is asked or done.
    pub why: Option<String>,
    /// How it is done.
    pub how: Option<String>,
    /// What is wanted.
    pub wanted: Wanted,
    /// What an empty answer means.
    pub usual: Option<String>,
    /// The answer given before it was taken back.
    pub earlier: Option<String>,
    /// It may be skipped.
    pub can_skip: bool,
    /// There is an answer before it to go back to.
    pub can_back: bool,
}

impl Run {
    /// The question the run waits on; `None` when it has ended.
    pub fn ask(&self) -> Option<Ask> {
        if self.ended().is_some() {
            return None;
        }
        let mut ask = match self.state.facts.front() {
            Some(at) => self.ask_fact(&self.setting.procedure.facts[*at]),
            None => self.ask_step(self.state.frames.step(&self.setting.procedure)?)?,
        };
        let earlier = self.taken_back.get(&ask.place).map(|(_, given)| given.clone());
        let done = matches!(ask.wanted, Wanted::Done(_));
        ask.earlier = earlier.filter(|given| !given.is_empty() && !done);
        ask.can_back = self.can_go_back();
        Some(ask)
    }

    fn blank(&self, text: String, wanted: Wanted) -> Ask {
        Ask {
            place: self.place(),
            rounds: self.state.frames.rounds_in_words(|tank| self.setting.tank_id(tank)),
            takes: 1,
            section: self.state.section.clone(),
            text,
            see: None,
            danger: None,
            why: None,
            how: None,
            wanted,
            usual: None,
            earlier: None,
            can_skip: false,
            can_back: false,
        }
    }

    fn ask_fact(&self, fact: &Fact) -> Ask {
        let wanted = match &fact.kind {
            Kind::Measure(measure) => Wanted::Number(*measure, self.setting.units.unit_for(*measure)),
            Kind::YesNo => Wanted::YesNo,
            Kind::Text => Wanted::Text(WriteKind::Text),
            Kind::OneOf(words) => Wanted::OneOf(
                words
                    .iter()
                    .map(|word| Choice { value: word.to_string(), label: word.to_string(), help: None })
                    .collect(),
            ),
        };
        let text = match self.refused_of_file(fact) {
            Some(refused) => format!("{} {refused}", fact.ask),
            None => fact.ask.clone(),
        };
        Ask { usual: self.usual(fact), why: fact.why.clone(), ..self.blank(text, wanted) }
    }

    /// Why the system file's answer to a fact is not taken, when it has one.
    fn refused_of_file(&self, fact: &Fact) -> Option<String> {
        let tank = self.state.frames.tank().unwrap_or(self.setting.tank);
        let value = self.setting.system.value(fact.from.as_deref()?, tank)?;
        let (low, high) = self.outside_what_can_be(fact, value)?;
        let shown = value.shown(self.setting.units);
        Some(format!("(Your system file says {shown}, which is outside what can be: {low} to {high}.)"))
    }

    /// What an empty answer to a fact means, as it would be typed.
    pub(super) fn usual(&self, fact: &Fact) -> Option<String> {
        match fact.usual.as_ref()? {
            Usual::Word(word) => Some(word.clone()),
            Usual::Value(expr) => match expr.value(&self.state.names) {
                Ok(value) => Some(value.shown(self.setting.units)),
                Err(_) => None,
            },
        }
    }

    /// What the newest record of the tank has under a step, as it would be typed.
    fn recalled(&self, step: &str) -> Option<String> {
        let tank = self.state.frames.tank().unwrap_or(self.setting.tank);
        let tank = self.setting.tank_id(tank);
        self.setting.past.get(tank.as_deref(), step).map(ToString::to_string)
    }

    fn filled(&self, template: &Template) -> String {
        template.filled(&self.state.names, self.setting.units)
    }

    fn ask_step(&self, step: &Step) -> Option<Ask> {
        let fill = |template: &Option<Template>| template.as_ref().map(|template| self.filled(template));
        let mut ask = match &step.action {
            Action::Do(action) => {
                let danger = fill(&action.danger);
                let word = danger.is_some().then_some(ACKNOWLEDGE);
                let blank = self.blank(self.filled(&action.text), Wanted::Done(word));
                Ask { see: fill(&action.see), danger, ..blank }
            }
            Action::Read(read) => {
                let unit = read.unit.or(self.setting.units.unit_for(read.measure));
                let blank = self.blank(self.filled(&read.ask), Wanted::Number(read.measure, unit));
                let usual = read.recall.as_deref().and_then(|step| self.recalled(step));
                Ask { takes: read.times, usual, ..blank }
            }
            Action::Choose(choose) => {
                let choices = choose.choices.iter().map(|choice| Choice {
                    value: choice.value.to_string(),
                    label: fill(&choice.label).unwrap_or_else(|| choice.value.to_string()),
                    help: fill(&choice.help),
                });
                self.blank(self.filled(&choose.ask), Wanted::OneOf(choices.collect()))
            }
            Action::Write(write) => self.blank(self.filled(&write.ask), Wanted::Text(write.kind)),
            Action::Wait(wait) => {
                let whole = self.wait_length(&wait.length);
                let wanted = match self.state.wait_begun {
                    None => Wanted::WaitBegins(whole),
                    Some(begun) => Wanted::WaitOver(whole, begun, wait.early),
                };
                self.blank(fill(&wait.ask).unwrap_or_else(|| "Wait.".to_string()), wanted)
            }
            _ => return None,
        };
        ask.why = fill(&step.why);
        ask.how = fill(&step.how);
        ask.can_skip = step.skip;
        Some(ask)
    }

    fn wait_length(&self, length: &crate::lang::Checked) -> Duration {
        match length.value(&self.state.names) {
            Ok(Value::Amount(_, amount)) => Duration::from_secs_f64(amount.value().clamp(0.0, 7.0 * DAY)),
            _ => Duration::ZERO,
        }
    }
}
