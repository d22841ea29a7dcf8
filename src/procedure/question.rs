//! What is put to a person, and what comes back: the words that verbs and engine share.

use thiserror::Error;

use std::time::Duration;

use crate::clock::Moment;
use crate::lang::{CheckedExpr, Template, Value, Values};
use crate::quantity::{Measure, Unit, Units};
use crate::record::EntryKind;

/// The word that says that a warning was read.
pub const ACKNOWLEDGE: &str = "understood";

/// A lowest and a highest value.
#[derive(Clone, Debug)]
pub struct Limits {
    /// The lowest.
    pub low: CheckedExpr,
    /// The highest.
    pub high: CheckedExpr,
}

/// One of the words to choose from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AskedChoice {
    /// The word.
    pub value: String,
    /// What the person sees.
    pub label: String,
    /// What it means, at length.
    pub help: Option<String>,
}

/// What sort of text is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WriteKind {
    /// Free text.
    Text,
    /// A date, as 2031-04-05.
    Date,
    /// The path of a file.
    File,
}

/// What kind of answer is waited for.
#[derive(Clone, Debug, PartialEq)]
pub enum AnswerKind {
    /// That it is done; with this word, when one must be typed.
    Done(Option<String>),
    /// That a warning was read, by the word [`ACKNOWLEDGE`].
    Understood,
    /// A number of a measure; a bare one is taken in the unit.
    Number(Measure, Option<&'static Unit>),
    /// Yes or no.
    YesNo,
    /// One of these.
    OneOf(Vec<AskedChoice>),
    /// Free text, a date, a file's path.
    Text(WriteKind),
    /// That a wait begins; how long it will be.
    WaitBegins(Duration),
    /// That a wait is over.
    WaitOver {
        /// How long it is.
        whole: Duration,
        /// When it began.
        begun: Moment,
        /// Whether it may end early.
        early: bool,
    },
}

impl AnswerKind {
    /// Whether a wait begins with the answer.
    pub(crate) fn begins_wait(&self) -> bool {
        matches!(self, AnswerKind::WaitBegins(_))
    }

    /// Whether what was answered once can be kept: not that something was read or done.
    pub(crate) fn is_kept(&self) -> bool {
        !matches!(self, AnswerKind::Done(_) | AnswerKind::Understood)
    }

    /// What there is to choose from; nothing where no choice is asked for.
    pub(crate) fn choices(&self) -> &[AskedChoice] {
        if let AnswerKind::OneOf(choices) = self { choices } else { &[] }
    }

    /// The choice of that word, where one is asked for.
    pub(crate) fn choice(&self, word: &str) -> Option<&AskedChoice> {
        self.choices().iter().find(|choice| choice.value == word)
    }
}

/// A question or an instruction, its texts filled.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The question or the instruction.
    pub text: String,
    /// What shows that it went right.
    pub see: Option<String>,
    /// What is wanted.
    pub expects: AnswerKind,
    /// What an empty answer means.
    pub usual: Option<String>,
    /// The word that says it is not so, and what it means.
    pub otherwise: Option<(&'static str, Option<String>)>,
}

impl Question {
    /// A question with a text and no more.
    pub fn new(text: String, expects: AnswerKind) -> Question {
        Question { text, see: None, expects, usual: None, otherwise: None }
    }
}

/// What a person typed at a question.
#[derive(Clone, Copy, Debug)]
pub struct Answer<'a> {
    /// The words, without spaces around them.
    pub typed: &'a str,
    /// An unlikely answer is meant.
    pub sure: bool,
}

/// A number as it was read off and as it is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Number {
    /// How many of the unit.
    pub value: f64,
    /// The unit; none for a bare count.
    pub unit: Option<&'static Unit>,
    /// Standard uncertainty, in the unit; only from a gauge that is known.
    pub uncertainty: Option<f64>,
    /// The gauge it was read from.
    pub gauge: Option<String>,
}

/// An answer that is taken, as the record keeps it.
#[derive(Clone, Debug, PartialEq)]
pub struct Accepted {
    /// What the entry tells of.
    pub kind: EntryKind,
    /// The answer in its lasting words.
    pub given: String,
    /// The number, when it is one.
    pub number: Option<Number>,
    /// What the person is told upon it.
    pub said: Option<String>,
}

impl Accepted {
    /// An answer in words.
    pub fn words(kind: EntryKind, given: &str) -> Accepted {
        Accepted { kind, given: given.to_string(), number: None, said: None }
    }
}

/// Why an answer is not taken.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum Refusal {
    /// It cannot be taken; ask again.
    #[error("{0}")]
    Again(String),
    /// It can be, but is unlikely; ask whether it is meant.
    #[error("{0}")]
    Unusual(String),
}

impl Refusal {
    /// A refusal to be given at once.
    ///
    /// # Errors
    /// Always, with [`Refusal::Again`].
    pub fn again<T>(message: impl Into<String>) -> Result<T, Refusal> {
        Err(Refusal::Again(message.into()))
    }
}

/// What a gauge is good to where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct GaugeAt {
    /// What a sentence calls it.
    pub called: String,
    /// How far it goes, SI.
    pub span: Option<f64>,
    /// Standard uncertainty of a reading there, SI.
    pub uncertainty: f64,
}

/// What a question may look at while a run waits on it.
pub trait AtHand {
    /// The values known so far.
    fn values(&self) -> &dyn Values;
    /// The household's units.
    fn units(&self) -> Units;
    /// The gauge of that name, at a value in SI.
    fn gauge(&self, name: &str, si: f64) -> Option<GaugeAt>;
    /// What the tank's newest record has under a step, as it would be typed.
    fn recalled(&self, step: &str) -> Option<String>;
    /// The readings that the step has already, when it takes several.
    fn takes(&self) -> &[Value];
    /// When the wait began that the run is in.
    fn wait_begun(&self) -> Option<Moment>;

    /// A text with its holes filled.
    fn filled(&self, text: &Template) -> String {
        text.filled(self.values(), self.units())
    }
}
