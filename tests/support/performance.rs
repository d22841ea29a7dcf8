//! A run, performed by a simulated owner from its start to its end.
#![allow(dead_code)]

use std::time::Duration;

use thiserror::Error;

use tankhand::clock::Moment;
use tankhand::engine::{ACKNOWLEDGE, AnswerKind, Ask, Event, Refusal, Run, RunInput, Setting};
use tankhand::owner::{Attempt, Owner};
use tankhand::record::{Entry, Outcome};

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

/// A run under way, with its owner and its time.
struct Progress<'o> {
    owner: &'o mut Owner,
    run: Run,
    entries: Vec<Entry>,
    begin: Moment,
    /// The step that was said not to be so, and how often.
    not_so: (String, usize),
}

/// Performs a procedure.
///
/// # Errors
/// [`Standstill`] where no answer is taken.
pub fn perform(owner: &mut Owner, setting: Setting, begin: Moment) -> Result<Performance, Standstill> {
    let (run, first) = Run::begin(setting, begin);
    let (entries, not_so) = Default::default();
    let mut stage = Progress { owner, run: run.without_advice(), entries, begin, not_so };
    stage.keep(first);
    for _ in 0..MOST_ANSWERS {
        let Some(ask) = stage.run.ask() else { break };
        stage.owner.waits(PACE);
        stage.respond(&ask)?;
    }
    match stage.run.ended().cloned() {
        Some(ended) => Ok(Performance { run: stage.run, entries: stage.entries, ended }),
        None => Err(standstill(stage.run.ask().as_ref(), "it goes on without end")),
    }
}

impl Progress<'_> {
    fn keep(&mut self, events: Vec<Event>) {
        self.owner.learns(events.iter().map(|event| &event.entry));
        self.entries.extend(events.into_iter().map(|event| event.entry));
    }

    fn take(&mut self, input: RunInput<'_>) -> Result<Vec<Event>, Refusal> {
        let now = self.begin.plus(Duration::from_secs_f64(self.owner.plant().seconds()));
        self.run.take(input, now)
    }

    fn respond(&mut self, ask: &Ask) -> Result<(), Standstill> {
        match &ask.expects {
            AnswerKind::Understood => self.types(ask, ACKNOWLEDGE),
            AnswerKind::WaitBegins(_) => self.put(ask, RunInput::WaitBegins),
            AnswerKind::WaitOver { whole, .. } => {
                self.owner.waits(whole.as_secs_f64());
                self.put(ask, RunInput::WaitOver(*whole))
            }
            AnswerKind::Done(status) => self.act(ask, status.as_deref()),
            AnswerKind::Number(..) | AnswerKind::YesNo | AnswerKind::OneOf(_) | AnswerKind::Text(_) => {
                let of = self.run.situation().observes.map_or("", |of| of.name);
                let attempts = self.owner.answers(&self.run, ask);
                if !self.first_accepted(ask, (attempts, READ_AGAIN.contains(&of)))? {
                    let attempts = self.owner.answers(&self.run, ask);
                    self.first_accepted(ask, (attempts, false))?;
                }
                Ok(())
            }
        }
    }

    fn act(&mut self, ask: &Ask, status: Option<&str>) -> Result<(), Standstill> {
        let well = self.owner.does(&self.run.situation(), status);
        let step = ask.place.step.to_string();
        let times = if self.not_so.0 == step { self.not_so.1 } else { 0 };
        let word = ask.otherwise.as_ref().map(|(word, _)| *word).filter(|_| !well && times < MOST_NOT_SO);
        self.not_so = (step, times + 1);
        self.types(ask, word.or(status).unwrap_or(""))
    }

    fn types(&mut self, ask: &Ask, typed: &str) -> Result<(), Standstill> {
        self.first_accepted(ask, (vec![Attempt::Type(typed.to_string())], false)).map(|_| ())
    }

    /// Tries one answer after the other until one is taken. One that is questioned is confirmed, but
    /// where a second look is taken first: then `false`.
    fn first_accepted(
        &mut self,
        ask: &Ask,
        (attempts, looks_again): (Vec<Attempt>, bool),
    ) -> Result<bool, Standstill> {
        let mut refused = String::new();
        for attempt in attempts {
            let input = |sure: bool| match &attempt {
                Attempt::Type(text) if sure => RunInput::Confirmed(text),
                Attempt::Type(text) => RunInput::Answer(text),
                Attempt::Skip => RunInput::Skip("not at hand"),
            };
            let events = match self.take(input(false)) {
                Err(Refusal::Unusual(_)) if looks_again => return Ok(false),
                Err(Refusal::Unusual(_)) => self.take(input(true)),
                other => other,
            };
            match events {
                Ok(events) => {
                    self.keep(events);
                    return Ok(true);
                }
                Err(Refusal::Again(why) | Refusal::Unusual(why)) => refused = why,
            }
        }
        Err(standstill(Some(ask), &refused))
    }

    fn put(&mut self, ask: &Ask, input: RunInput<'_>) -> Result<(), Standstill> {
        let refused = |(Refusal::Again(why) | Refusal::Unusual(why))| standstill(Some(ask), &why);
        let events = self.take(input).map_err(refused)?;
        self.keep(events);
        Ok(())
    }
}

fn standstill(ask: Option<&Ask>, refused: &str) -> Standstill {
    let asked = ask.map(|ask| (ask.place.step.to_string(), ask.text.clone()));
    let (step, text) = asked.unwrap_or_default();
    Standstill { step, text, refused: refused.to_string() }
}
