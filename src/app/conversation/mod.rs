//! The conversation: a run on one side, a face on the other, the record between.
//!
//! What the run yields is written and synced before anything more is asked.

mod closing;
mod explain;
mod place;
mod practice;
mod prompt;
mod telling;
mod waiting;

use std::collections::HashSet;
use std::sync::Arc;

use super::{Done, Failure, Result};
use crate::clock::{Clock, Moment};
use crate::console::{Block, Command, Ended, Face, Prompt, Reply, ReplyKind};
use crate::engine::{AnswerKind, AnswerPlace, Ask, Event, Refusal, Run, RunInput};
use crate::owner::Owner;
use crate::record::{Entry, FileStorage, Recorder};
pub(super) use waiting::in_words;

/// The face and the clock of a conversation.
pub struct Stage<'a> {
    /// Who is talked to.
    pub face: &'a mut dyn Face,
    /// The time.
    pub clock: &'a dyn Clock,
    /// Columns for pages laid out beforehand.
    pub width: usize,
    /// What is going on.
    pub occasion: Occasion,
}

impl Stage<'_> {
    /// Shows one thing, such as `Block::Text` of a text.
    pub(super) fn show<T>(&mut self, block: impl Fn(T) -> Block, of: impl Into<T>) -> Result<()> {
        Ok(self.face.show(&block(of.into()))?)
    }
}

/// On what occasion a run is performed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Occasion {
    /// Somebody is at work.
    Work,
    /// A script answers.
    Script,
    /// A demonstration, whose record is not kept.
    Demo,
    /// A sheet filled in by hand is typed in.
    Paper,
}

/// A conversation under way.
pub(super) struct Conversation<'a, 'b> {
    pub stage: &'a mut Stage<'b>,
    pub run: Run,
    pub recorder: Recorder<FileStorage>,
    pub id: String,
    section: Option<String>,
    /// What was told last.
    said: Option<String>,
    /// The steps whose question was shown whole.
    shown: HashSet<Arc<str>>,
    /// The terms whose meaning was told.
    introduced: Vec<&'static str>,
    /// What the run said so far.
    messages: HashSet<String>,
    /// Whether answers are carried over just now: what they lead to was told in its place before.
    carrying: bool,
    /// When the wait before this question was over.
    ready: Option<Moment>,
    /// The question that was explained last, and how many pages of it were shown.
    helped: Option<(AnswerPlace, usize)>,
    /// Who sees for the person, where this is a practice.
    owner: Option<&'a mut Owner>,
}

/// What may be typed where a second thought is asked for.
const SECOND_THOUGHT: [Command; 3] = [Command::Why, Command::List, Command::Back];

/// What comes after one question.
pub(super) enum Next {
    GoOn,
    Leave(&'static str),
}

impl<'a, 'b> Conversation<'a, 'b> {
    pub(super) fn new(
        stage: &'a mut Stage<'b>,
        run: Run,
        recorder: Recorder<FileStorage>,
        id: String,
    ) -> Conversation<'a, 'b> {
        Conversation {
            stage,
            run,
            recorder,
            id,
            section: None,
            said: None,
            shown: HashSet::new(),
            introduced: Vec::new(),
            messages: HashSet::new(),
            carrying: false,
            ready: None,
            helped: None,
            owner: None,
        }
    }

    /// The same, with what a record that is gone on with has told already.
    pub(super) fn having_shown(mut self, entries: &[Entry]) -> Self {
        self.messages = entries.iter().filter_map(Entry::message).collect();
        self
    }

    /// Walks the procedure to its end or until the person leaves.
    pub(super) fn go(&mut self, first: Vec<Event>) -> Result<Done> {
        self.keep(first)?;
        loop {
            let answered = match self.run.ask() {
                Some(ask) => self.question(&ask),
                None => self.close(),
            };
            match answered {
                Ok(Some(Next::GoOn)) => {}
                Ok(Some(Next::Leave(why))) => return self.leave(why),
                Ok(None) => return self.finished(),
                Err(Interruption::Ended(ended)) => return self.broken_off(ended),
                Err(Interruption::Failure(failure)) => return Err(failure),
            }
        }
    }

    /// Puts one question until it is answered or the person goes elsewhere.
    fn question(&mut self, ask: &Ask) -> Result<Option<Next>, Interruption> {
        self.heading(&ask.section)?;
        match &ask.expects {
            AnswerKind::WaitBegins(_) => {
                self.begin_wait()?;
                return Ok(Some(Next::GoOn));
            }
            AnswerKind::WaitOver { whole, begun, early } => {
                self.show_ask(ask)?;
                if self.owner.is_some() {
                    return self.pass_the_wait(*whole);
                }
                return self.wait(ask, *whole, *begun, *early);
            }
            AnswerKind::Done(_)
            | AnswerKind::Understood
            | AnswerKind::Number(..)
            | AnswerKind::YesNo
            | AnswerKind::OneOf(_)
            | AnswerKind::Text(_) => {}
        }
        self.show_ask(ask)?;
        self.show_sight(ask)?;
        let prompt = prompt::prompt(ask);
        loop {
            match self.stage.face.ask(&prompt)? {
                Reply::Text(text) => {
                    if self.answer(&prompt, &text)? {
                        return Ok(Some(Next::GoOn));
                    }
                }
                Reply::Command(Command::Pause, _) => return Ok(Some(Next::Leave("Left at your word."))),
                Reply::Command(Command::Why, _) => self.explain(ask)?,
                Reply::Command(command, words) => {
                    if self.command(command, &words)? {
                        return Ok(Some(Next::GoOn));
                    }
                }
            }
        }
    }

    /// Gives the run an answer; `false` when this is to be asked again.
    fn answer(&mut self, prompt: &Prompt, text: &str) -> Result<bool, Interruption> {
        if self.run.left_to_carry() > 0 {
            match self.is_agreed(prompt, text)? {
                Agreement::Yes => {}
                Agreement::No => return Ok(false),
                Agreement::Elsewhere => return Ok(true),
            }
        }
        let now = self.stage.clock.now();
        match self.run.take(RunInput::Answer(text), now) {
            Ok(events) => {
                let read = self.read_after_wait(&events);
                self.keep(events)?;
                if let Some(message) = read {
                    self.stage.show(Block::Aside, message)?;
                }
            }
            Err(Refusal::Again(why)) => {
                self.stage.show(Block::Refusal, why)?;
                return Ok(false);
            }
            Err(Refusal::Unusual(why)) => {
                self.stage.show(Block::Text, why)?;
                let choices = [("yes", "that is what it shows"), ("no", "ask again")];
                match self.sure(prompt, "keep it", choices)? {
                    Agreement::Yes => {}
                    Agreement::No => return Ok(false),
                    Agreement::Elsewhere => return Ok(true),
                }
                let now = self.stage.clock.now();
                match self.run.take(RunInput::Confirmed(text), now) {
                    Ok(events) => self.keep(events)?,
                    Err(_) => return Ok(false),
                }
            }
        }
        Ok(true)
    }

    /// Asks for a second thought, and carries out a command given in its place.
    fn sure(
        &mut self,
        prompt: &Prompt,
        label: &str,
        choices: [(&str, &str); 2],
    ) -> Result<Agreement, Interruption> {
        let why = choices.map(|(value, label)| format!("{value}: {label}.")).join(" ");
        let choices = choices.map(|(value, label)| (value.to_string(), label.to_string())).into();
        let sure = Prompt {
            which: "sure?".to_string(),
            commands: SECOND_THOUGHT
                .into_iter()
                .filter(|command| prompt.commands.contains(command))
                .collect(),
            ..Prompt::new(&prompt.step, label, ReplyKind::OneOf(choices))
        };
        loop {
            match self.stage.face.ask(&sure)? {
                Reply::Command(Command::List, _) => self.tell_place()?,
                Reply::Command(Command::Why, _) => self.stage.show(Block::Help, why.clone())?,
                Reply::Command(command, words) => {
                    let moved = self.command(command, &words)?;
                    return Ok(if moved { Agreement::Elsewhere } else { Agreement::No });
                }
                Reply::Text(text) if text == "yes" => return Ok(Agreement::Yes),
                Reply::Text(_) => return Ok(Agreement::No),
            }
        }
    }

    /// Carries out a command; `true` when the run moved.
    fn command(&mut self, command: Command, words: &str) -> Result<bool, Interruption> {
        let input = match command {
            Command::Back => RunInput::Back,
            Command::Amend => match words.parse() {
                Ok(number) => RunInput::Amend(number),
                Err(_) => RunInput::AmendNamed(words),
            },
            Command::Skip => RunInput::Skip(words),
            Command::More => return Ok(self.explain_results().map(|()| false)?),
            Command::List => return Ok(self.tell_place().map(|()| false)?),
            Command::Note | Command::Why | Command::Pause => RunInput::Note(words),
        };
        let now = self.stage.clock.now();
        match self.run.take(input, now) {
            Ok(events) => {
                self.keep(events)?;
                if command == Command::Amend {
                    let kept = self.run.ask().is_some_and(|ask| ask.earlier.is_some());
                    let only = "Only the answer is changed; do nothing at the tank for it.";
                    let hint = if kept { format!("{only} Enter keeps it.") } else { only.to_string() };
                    self.stage.show(Block::Aside, hint)?;
                }
                if command == Command::Note {
                    self.stage.show(Block::Aside, "Noted.")?;
                }
                Ok(command != Command::Note)
            }
            Err(Refusal::Again(why) | Refusal::Unusual(why)) => {
                self.stage.show(Block::Refusal, why)?;
                Ok(false)
            }
        }
    }

    fn take(&mut self, input: RunInput<'_>, now: Moment) -> Result<(), Interruption> {
        match self.run.take(input, now) {
            Ok(events) => Ok(self.keep(events)?),
            Err(Refusal::Again(why) | Refusal::Unusual(why)) => {
                Err(Interruption::Failure(Failure::Machine(why)))
            }
        }
    }
}

/// What a second thought came to.
pub(super) enum Agreement {
    /// It is meant.
    Yes,
    /// It is not: the question is put again.
    No,
    /// The person went elsewhere: another question is put.
    Elsewhere,
}

/// What breaks off a question.
#[derive(Debug, thiserror::Error)]
pub(super) enum Interruption {
    #[error(transparent)]
    Ended(#[from] Ended),
    #[error(transparent)]
    Failure(#[from] Failure),
}
