//! What the program needs of whoever sits at the other end.
//!
//! Questions are data; parsing and checking of answers happens behind this trait, once, so that
//! a terminal, a pipe and a script all behave alike.

use std::io;
use std::time::Duration;

use thiserror::Error;

use crate::clock::Clock;
use crate::procedure::Signal;
use crate::quantity::Verdict;
use crate::record::Grade;
use crate::source::Fault;

/// A piece of finished text; each face wraps and marks it in its own way.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// The start of a step: where we are and its title.
    Heading(String),
    /// A paragraph.
    Text(String),
    /// A question or an instruction, and what shows that it went right; never parted from its prompt.
    Task {
        /// The instruction, then a line for each thing to look at.
        lines: Vec<String>,
        /// Lines of choices that stand below it.
        below: usize,
        /// What may be typed there; told above it where it is new.
        commands: Vec<Command>,
    },
    /// What was worked out, its number first.
    Result(String),
    /// What can hurt: shown so that it cannot be overlooked.
    Warning(Signal, String),
    /// Help that was asked for: paragraphs close together, never dimmed.
    Help(String),
    /// A lesser remark: what shows it went right, what a default means, what was taken as known.
    Aside(String),
    /// A check's verdict and what it means.
    Verdict(Verdict, String),
    /// What was found, how it weighs, and what to do about it.
    Finding(Grade, String),
    /// An answer was not taken; why.
    Refusal(String),
    /// Lines shown exactly as they are (a table, a page already laid out).
    Lines(Vec<String>),
}

/// A question, ready to be put.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prompt {
    /// The step's place, such as `air_found` or `jar`: what a script answers to.
    pub step: String,
    /// Which answer at that place, such as `round 3` or `2nd of 3`; empty when there is one.
    pub which: String,
    /// The number the answer will be known by.
    pub number: Option<usize>,
    /// A few words before the cursor, at most 30 characters, such as `pressure, psi`.
    pub label: String,
    /// What is wanted.
    pub expects: ReplyKind,
    /// The answer that an empty line gives.
    pub usual: Option<String>,
    /// The word that says it is not so, or does not happen.
    pub otherwise: Option<String>,
    /// The earlier answer being amended.
    pub earlier: Option<String>,
    /// The commands that make sense here, in the order to offer them.
    pub commands: Vec<Command>,
}

impl Prompt {
    /// A question by itself: no commands, and nothing to offer as its answer.
    pub fn new(step: &str, label: &str, expects: ReplyKind) -> Prompt {
        Prompt { step: step.to_string(), label: label.to_string(), expects, ..Prompt::default() }
    }
}

/// What kind of answer is wanted.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum ReplyKind {
    /// A line of text.
    #[default]
    Line,
    /// Enter, when it is done.
    Enter,
    /// Exactly this word, typed out.
    Word(String),
    /// One of these: value, and the words that explain it.
    OneOf(Vec<(String, String)>),
}

impl ReplyKind {
    /// Yes or no.
    pub(crate) fn yes_or_no() -> ReplyKind {
        ReplyKind::OneOf(["yes", "no"].map(|word| (word.to_string(), word.to_string())).into())
    }
}

/// What came back.
#[derive(Clone, Debug, PartialEq)]
pub enum Reply {
    /// A line of text, or the value of the choice.
    Text(String),
    /// A command in place of an answer, with the words after it (`note the valve drips`); `note`,
    /// `skip` and `amend` always come with words, the others never.
    Command(Command, String),
}

/// What may be typed in place of an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Command {
    /// `?`: why this step, and how.
    Why,
    /// `more`: how the results just told came about.
    More,
    /// `list`: what was answered, and where the work stands.
    List,
    /// `back`: amend the answer before.
    Back,
    /// `amend 7`: change answer 7, and keep those after it that still fit; `amend kind of pump`: the same of
    /// what the system file told.
    Amend,
    /// `note`: add a remark.
    Note,
    /// `skip`: leave the step out, with a reason.
    Skip,
    /// `pause`: leave; everything is kept.
    Pause,
}

impl Command {
    /// All of them, in the order to offer them.
    pub const ALL: [Command; 8] = [
        Command::Why,
        Command::More,
        Command::List,
        Command::Back,
        Command::Amend,
        Command::Note,
        Command::Skip,
        Command::Pause,
    ];

    /// The word that is typed, and what it does.
    fn row(self) -> (&'static str, &'static str) {
        match self {
            Command::Why => ("?", "why and how"),
            Command::More => ("more", "how the results came about"),
            Command::List => ("list", "where am I, and what was answered"),
            Command::Back => ("back", "amend the answer before"),
            Command::Amend => ("amend", "with a number or a name: change that answer"),
            Command::Note => ("note", "add a remark"),
            Command::Skip => ("skip", "leave this out, with a reason"),
            Command::Pause => ("pause", "leave; everything is kept"),
        }
    }

    /// The word that is typed.
    pub fn word(self) -> &'static str {
        self.row().0
    }

    /// What it does, in a few words.
    pub fn meaning(self) -> &'static str {
        self.row().1
    }
}

/// A wait to be counted down.
#[derive(Clone, Debug, PartialEq)]
pub struct Countdown {
    /// The step's place.
    pub step: String,
    /// How long it is in all.
    pub whole: Duration,
    /// How much has passed already (before the program was started again).
    pub passed: Duration,
    /// Whether a key may end it early.
    pub early: bool,
}

/// How a countdown ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CountdownEnd {
    /// It ran out, or was ended early by a key; how long it was in all.
    Over(Duration),
    /// The person wants to leave; everything is kept and the wait goes on by the clock.
    Pause,
}

/// Why no answer came.
#[derive(Debug, Error)]
pub enum Ended {
    /// The input is at its end.
    #[error("the input is at its end")]
    NoMoreInput,
    /// Ctrl-C, or the program was told to end.
    #[error("broken off")]
    Interrupted,
    /// A script did not fit what was asked.
    #[error(transparent)]
    Script(Box<Fault>),
    /// The terminal or pipe failed.
    #[error(transparent)]
    Io(io::Error),
}

impl From<io::Error> for Ended {
    fn from(error: io::Error) -> Ended {
        match error.kind() {
            io::ErrorKind::Interrupted => Ended::Interrupted,
            _ => Ended::Io(error),
        }
    }
}

/// A person, or something that answers for one.
pub trait Face {
    /// Shows a piece of text.
    ///
    /// # Errors
    /// When writing fails.
    fn show(&mut self, block: &Block) -> io::Result<()>;

    /// Puts a question and waits.
    ///
    /// # Errors
    /// [`Ended`] when no answer can come.
    fn ask(&mut self, prompt: &Prompt) -> Result<Reply, Ended>;

    /// Counts down.
    ///
    /// # Errors
    /// [`Ended`] when the wait is broken off.
    fn count_down(&mut self, countdown: &Countdown, clock: &dyn Clock) -> Result<CountdownEnd, Ended>;
}

#[cfg(test)]
mod tests {
    use super::Command;
    use crate::words::ORDERS;

    #[test]
    fn what_procedures_may_not_offer_as_a_choice_are_the_commands() {
        assert_eq!(Command::ALL.map(Command::word), ORDERS);
    }
}
