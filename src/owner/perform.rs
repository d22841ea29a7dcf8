//! A run, performed by a simulated owner from its start to its end.

use std::time::Duration;

use thiserror::Error;

use super::attempts::{Attempt, attempts};
use super::person::{Owner, Sighting};
use crate::clock::Moment;
use crate::engine::{ACKNOWLEDGE, AnswerKind, Ask, Event, Refusal, Run, RunInput, Setting};
use crate::record::{Entry, Outcome};

/// The most that is typed in a run.
const MOST_ANSWERS: usize = 3_000;
/// Seconds from one answer to the next.
const PACE: f64 = 15.0;
/// How often the same step is said not to be so.
const MOST_NOT_SO: usize = 2;

/// What is read a second time when it is questioned: nothing has to be done for it.
const READ_AGAIN: &[&str] = &["precharge", "line_pressure", "test_air", "resting_gauge", "second_gauge"];

/// A run that was performed.
#[derive(Clone, Debug)]
pub struct Performance {
    /// The run, ended.
    pub run: Run,
    /// Everything that came about.
    pub entries: Vec<Entry>,
    /// How it ended, and its last word.
    pub ended: (Outcome, String),
}

/// A run that came to no end.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("no answer was taken at `{step}`: {text} ({refused})")]
pub struct Standstill {
    /// The step.
    pub step: String,
    /// The question.
    pub text: String,
    /// Why the last answer was not taken.
    pub refused: String,
}

/// A run under way, with its time.
struct Progress {
    run: Run,
    entries: Vec<Entry>,
    begin: Moment,
    /// The step that was said not to be so, and how often.
    not_so: (String, usize),
}

impl Owner {
    /// Performs a procedure.
    ///
    /// # Errors
    /// [`Standstill`] where no answer is taken.
    pub fn perform(&mut self, setting: Setting, begin: Moment) -> Result<Performance, Standstill> {
        let (run, first) = Run::begin(setting, begin);
        let mut stage =
            Progress { run: run.without_advice(), entries: Vec::new(), begin, not_so: (String::new(), 0) };
        self.keep(&mut stage, first);
        for _ in 0..MOST_ANSWERS {
            let Some(ask) = stage.run.ask() else { break };
            self.plant.advance(PACE);
            self.respond(&mut stage, &ask)?;
        }
        match stage.run.ended().cloned() {
            Some(ended) => Ok(Performance { run: stage.run, entries: stage.entries, ended }),
            None => Err(standstill(stage.run.ask().as_ref(), "it goes on without end")),
        }
    }

    fn now(&self, stage: &Progress) -> Moment {
        stage.begin.plus(Duration::from_secs_f64(self.plant.seconds()))
    }

    fn keep(&mut self, stage: &mut Progress, events: Vec<Event>) {
        self.memory.learn(events.iter().map(|event| &event.entry));
        stage.entries.extend(events.into_iter().map(|event| event.entry));
    }

    fn respond(&mut self, stage: &mut Progress, ask: &Ask) -> Result<(), Standstill> {
        match &ask.expects {
            AnswerKind::Understood => self.types(stage, ask, ACKNOWLEDGE),
            AnswerKind::WaitBegins(_) => self.put(stage, ask, RunInput::WaitBegins),
            AnswerKind::WaitOver(whole, ..) => {
                self.plant.advance(whole.as_secs_f64());
                self.put(stage, ask, RunInput::WaitOver(*whole))
            }
            AnswerKind::Done(status) => self.act(stage, ask, status.as_deref()),
            AnswerKind::Number(..) | AnswerKind::YesNo | AnswerKind::OneOf(_) | AnswerKind::Text(_) => {
                let of = stage.run.situation().observes.map_or("", |of| of.name);
                let seen = self.looks(&stage.run, ask);
                if !self.first_accepted(stage, ask, (attempts(&seen, ask), READ_AGAIN.contains(&of)))? {
                    let seen = self.looks(&stage.run, ask);
                    self.first_accepted(stage, ask, (attempts(&seen, ask), false))?;
                }
                Ok(())
            }
        }
    }

    /// Does what a question needs, and what its step brings about, and looks.
    pub(super) fn looks(&mut self, run: &Run, ask: &Ask) -> Sighting {
        let situation = run.situation();
        self.memory.filling = offers(ask, "stopped") || offers(ask, "builds");
        let seen = self.sees(&situation);
        if seen != Sighting::Never {
            self.does(&situation, None);
        }
        seen
    }

    fn act(&mut self, stage: &mut Progress, ask: &Ask, status: Option<&str>) -> Result<(), Standstill> {
        let situation = stage.run.situation();
        let well = self.does(&situation, status);
        let step = ask.place.step.to_string();
        let times = if stage.not_so.0 == step { stage.not_so.1 } else { 0 };
        let word = ask.otherwise.as_ref().map(|(word, _)| *word).filter(|_| !well && times < MOST_NOT_SO);
        stage.not_so = (step, times + 1);
        let typed = word.or(status).unwrap_or("");
        self.types(stage, ask, typed)
    }

    fn types(&mut self, stage: &mut Progress, ask: &Ask, typed: &str) -> Result<(), Standstill> {
        self.first_accepted(stage, ask, (vec![Attempt::Type(typed.to_string())], false)).map(|_| ())
    }

    /// Tries one answer after the other until one is taken. One that is questioned is confirmed, but
    /// where a second look is taken first: then `false`.
    fn first_accepted(
        &mut self,
        stage: &mut Progress,
        ask: &Ask,
        (attempts, looks_again): (Vec<Attempt>, bool),
    ) -> Result<bool, Standstill> {
        let mut refused = String::new();
        for attempt in attempts {
            let now = self.now(stage);
            let input = |sure: bool| match &attempt {
                Attempt::Type(text) => RunInput::Answer(text, sure),
                Attempt::Skip => RunInput::Skip("not at hand"),
            };
            let events = match stage.run.take(input(false), now) {
                Err(Refusal::Unusual(_)) if looks_again => return Ok(false),
                Err(Refusal::Unusual(_)) => stage.run.take(input(true), now),
                other => other,
            };
            match events {
                Ok(events) => {
                    self.keep(stage, events);
                    return Ok(true);
                }
                Err(Refusal::Again(why) | Refusal::Unusual(why)) => refused = why,
            }
        }
        Err(standstill(Some(ask), &refused))
    }

    fn put(&mut self, stage: &mut Progress, ask: &Ask, input: RunInput<'_>) -> Result<(), Standstill> {
        let now = self.now(stage);
        let refused = |(Refusal::Again(why) | Refusal::Unusual(why))| standstill(Some(ask), &why);
        let events = stage.run.take(input, now).map_err(refused)?;
        self.keep(stage, events);
        Ok(())
    }
}

/// Whether a word is among those to choose from.
fn offers(ask: &Ask, word: &str) -> bool {
    matches!(&ask.expects, AnswerKind::OneOf(choices) if choices.iter().any(|choice| choice.value == word))
}

fn standstill(ask: Option<&Ask>, refused: &str) -> Standstill {
    let asked = ask.map(|ask| (ask.place.step.to_string(), ask.text.clone()));
    let (step, text) = asked.unwrap_or_default();
    Standstill { step, text, refused: refused.to_string() }
}
