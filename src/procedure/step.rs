//! A step as the engine gets it, and what every verb must say of its steps.
//!
//! A verb lives in a file of its own in `steps/`. Nobody else knows it: the proofs, the engine
//! and the reports see an [`Action`], which says which of a few [courses](Course) a run takes.

use std::borrow::Cow;
use std::fmt;
use std::panic::RefUnwindSafe;
use std::sync::Arc;

use super::contract::Placed;
use super::hazards::Hazard;
use super::observables::Observable;
use super::paper::{Paper, PaperLine, Said};
use super::place::SourcePlace;
use super::question::{Accepted, Answer, AnswerKind, AtHand, Refusal};
use super::shown::Shown;
use super::without::Waiver;
use crate::lang::{CheckedExpr, Template};
use crate::quantity::Kind;
use crate::record::{Entry, Grade, Phase};
use crate::source::{Quoted, SourceText, Span};

/// One step.
#[derive(Clone, Debug)]
pub struct Step {
    /// Its name, unique in the procedure; made from verb and place when the file gives none.
    pub id: Arc<str>,
    /// What reports call its answer; else its id with spaces.
    pub label: Option<String>,
    /// What its answer is of.
    pub observes: Option<&'static Observable>,
    /// Under which heading of the summary its answer stands.
    pub tells: Option<Phase>,
    /// A heading, where a new part of the work begins.
    pub title: Option<Template>,
    /// The step is left out when this does not hold.
    pub when: Option<CheckedExpr>,
    /// Why it is done.
    pub why: Option<Template>,
    /// What is put in place of its question or instruction from the second reading or round on.
    pub repeated: Option<Template>,
    /// What a worksheet says in its place, in a line or two.
    pub paper: Option<Template>,
    /// How it is done.
    pub how: Option<Template>,
    /// States it relies on, with the places of their names.
    pub needs: Vec<(Arc<str>, Span)>,
    /// States it brings about.
    pub brings: Vec<Arc<str>>,
    /// States it ends.
    pub undoes: Vec<Arc<str>>,
    /// What can hurt there.
    pub hazards: Vec<&'static Hazard>,
    /// It may be skipped, with a reason.
    pub skip: bool,
    /// Needs of the shipped step that it leaves out.
    pub without: Vec<Waiver>,
    /// What it is.
    pub action: Arc<dyn Action>,
    /// The text it stands in.
    pub source: SourceText,
    /// Where it stands.
    pub span: Span,
    /// The part that begins with it, when one does.
    pub(super) part: Option<Arc<Placed>>,
}

/// What a verb makes of a step. No method has a default: a verb with anything missing is refused.
pub trait Action: fmt::Debug + Send + Sync + RefUnwindSafe {
    /// What a run does at the step, and what the proofs follow.
    fn course(&self) -> Course<'_>;
    /// What is said of the step when the procedure is read out.
    fn outline(&self, step: &Step) -> Vec<Said>;
    /// The step's line on a worksheet; `None` when it needs none.
    fn on_paper(&self, step: &Step, paper: &mut dyn Paper) -> Option<PaperLine>;
}

/// What a run does at a step. These are all the courses there are; verbs choose among them.
#[derive(Clone, Copy, Debug)]
pub enum Course<'a> {
    /// A person is asked, and the run waits.
    Ask(&'a dyn Asks),
    /// A value is worked out.
    Compute(&'a Compute),
    /// The person is told something.
    State(&'a Statement),
    /// A comparison is made.
    Check(&'a Check),
    /// A conclusion is drawn.
    Conclude(&'a Conclude),
    /// All that was read is taken together.
    Diagnose(&'a Diagnose),
    /// Steps come round until something holds.
    Repeat(&'a Repeat),
    /// Steps are done for each tank.
    Each(&'a Each),
    /// The work ends.
    Stop(&'a Stop),
}

/// What a step that asks a person says beside.
pub trait Asks: fmt::Debug {
    /// What it shows and looks at.
    fn shows(&self) -> Shown<'_>;
    /// What kind of answer is waited for.
    fn expects(&self, at_hand: &dyn AtHand) -> AnswerKind;
    /// How an answer is taken, apart from that it is not so.
    ///
    /// # Errors
    /// [`Refusal`], with what is wrong with it.
    fn take(&self, answer: &Answer<'_>, at_hand: &dyn AtHand) -> Result<Accepted, Refusal>;
    /// What the answer leaves under the step's name.
    fn gives(&self) -> Option<Gives>;
    /// What a summary says of its one answer; `None` where the answer speaks for itself.
    fn message(&self, answer: &Entry) -> Option<String>;
}

/// What a step leaves under its name.
#[derive(Clone, Debug, PartialEq)]
pub struct Gives {
    /// What it is.
    pub kind: Kind,
    /// How many answers are taken.
    pub times: u32,
    /// Whether the time of the answer is a value too, named `ID_at`.
    pub timed: bool,
    /// The observable of which the tank's newest record has what an empty answer means.
    pub recall: Option<&'static str>,
}

impl Gives {
    /// One answer of a kind.
    pub fn one(kind: Kind) -> Gives {
        Gives { kind, times: 1, timed: false, recall: None }
    }
}

/// A value to compute.
#[derive(Clone, Debug)]
pub struct Compute {
    /// What is computed.
    pub expr: Arc<CheckedExpr>,
    /// What the person is told.
    pub say: Option<Template>,
    /// What the person is told when it cannot be worked out.
    pub unsure: Option<Template>,
}

/// A comparison to make.
#[derive(Clone, Debug)]
pub struct Check {
    /// What should hold.
    pub expr: CheckedExpr,
    /// The run stops when it fails.
    pub must: bool,
    /// What is told when it holds.
    pub pass: Option<Template>,
    /// What is told when it does not.
    pub fail: Option<Template>,
    /// What is told when the numbers do not tell.
    pub unsure: Option<Template>,
    /// The time over which that came about which is compared, and in proportion to it: a longer
    /// one would tell more.
    pub over: Option<CheckedExpr>,
}

/// Something to be told.
#[derive(Clone, Debug)]
pub struct Statement {
    /// What.
    pub text: Template,
}

/// A finding.
#[derive(Clone, Debug)]
pub struct Conclude {
    /// What was found, in a few words.
    pub name: Arc<str>,
    /// How it weighs.
    pub grade: Grade,
    /// It in a sentence.
    pub says: Template,
    /// What to do next about it.
    pub next: Option<Template>,
    /// How long until it should be looked at again.
    pub again: Option<CheckedExpr>,
    /// The steps it rests on, with the places where it says so.
    pub rests_on: Vec<(Arc<str>, Quoted)>,
}

/// A diagnosis to be made.
#[derive(Clone, Debug)]
pub struct Diagnose {
    /// Of how things were found, or of how they were left.
    pub phase: Phase,
}

/// Steps to repeat.
#[derive(Clone, Debug)]
pub struct Repeat {
    /// The rounds end when this holds.
    pub until: CheckedExpr,
    /// There are at least this many; 0 lets `until` hold before the first.
    pub at_least: u32,
    /// There are at most this many.
    pub at_most: u32,
    /// What is told after each round.
    pub say: Option<Template>,
    /// The steps of a round.
    pub body: Vec<Step>,
}

/// Steps for each tank.
#[derive(Clone, Debug)]
pub struct Each {
    /// The steps.
    pub body: Vec<Step>,
}

/// The end of the work.
#[derive(Clone, Debug)]
pub struct Stop {
    /// The verdict.
    pub text: Template,
    /// What it means for the run.
    pub outcome: StopOutcome,
}

/// What a stop means for the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StopOutcome {
    /// The tank or the installation failed.
    Failed,
    /// The work could not be ended.
    Unfinished,
}

/// What brings steps round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoopKind {
    /// They come round until something holds.
    Repeat,
    /// They come round for each tank.
    Each,
}

impl<'a> Course<'a> {
    /// Asking a person.
    pub fn asks(self) -> Option<&'a dyn Asks> {
        if let Course::Ask(asks) = self { Some(asks) } else { None }
    }

    /// Working something out.
    pub fn computes(self) -> Option<&'a Compute> {
        if let Course::Compute(compute) = self { Some(compute) } else { None }
    }

    /// Making a comparison.
    pub fn checks(self) -> Option<&'a Check> {
        if let Course::Check(check) = self { Some(check) } else { None }
    }

    /// Drawing a conclusion.
    pub fn concludes(self) -> Option<&'a Conclude> {
        if let Course::Conclude(conclude) = self { Some(conclude) } else { None }
    }

    /// Coming round until something holds.
    pub fn repeats(self) -> Option<&'a Repeat> {
        if let Course::Repeat(repeat) = self { Some(repeat) } else { None }
    }

    /// Whether the work ends.
    pub fn stops(self) -> bool {
        matches!(self, Course::Stop(_))
    }

    /// Whether all that was read is taken together.
    pub fn is_diagnosis(self) -> bool {
        matches!(self, Course::Diagnose(_))
    }

    /// Coming round, with the steps that do.
    pub fn comes_round(self) -> Option<(LoopKind, &'a [Step])> {
        match self {
            Course::Repeat(repeat) => Some((LoopKind::Repeat, &repeat.body)),
            Course::Each(each) => Some((LoopKind::Each, &each.body)),
            Course::Ask(_)
            | Course::Compute(_)
            | Course::State(_)
            | Course::Check(_)
            | Course::Conclude(_)
            | Course::Diagnose(_)
            | Course::Stop(_) => None,
        }
    }

    /// What is left under the step's name.
    pub fn gives(self) -> Option<Gives> {
        match self {
            Course::Ask(asks) => asks.gives(),
            Course::Compute(compute) => Some(Gives::one(compute.expr.ty().kind().clone())),
            Course::Check(_) => Some(Gives::one(Kind::YesNo)),
            Course::State(_)
            | Course::Conclude(_)
            | Course::Diagnose(_)
            | Course::Repeat(_)
            | Course::Each(_)
            | Course::Stop(_) => None,
        }
    }
}

impl Step {
    /// What reports call its answer.
    pub fn name(&self) -> String {
        let finding = || self.course().concludes().map(|conclude| conclude.name.to_string());
        self.label.clone().or_else(finding).unwrap_or_else(|| self.id.replace('_', " "))
    }

    /// Where it stands.
    pub(super) fn place(&self) -> SourcePlace {
        SourcePlace { source: self.source.clone(), span: self.span }
    }

    /// What a run does at it.
    pub fn course(&self) -> Course<'_> {
        self.action.course()
    }

    /// The steps inside it, when it is a loop.
    pub fn body(&self) -> &[Step] {
        self.course().comes_round().map_or(&[], |(_, body)| body)
    }

    /// The names that stand for something of it: its own, and that of the time of its answer.
    pub fn names(&self) -> impl Iterator<Item = Cow<'_, str>> {
        let timed = self.course().gives().is_some_and(|gives| gives.timed);
        let at = timed.then(|| Cow::from(time_of(&self.id)));
        std::iter::once(Cow::from(&*self.id)).chain(at)
    }
}

/// The name of the time at which a step was answered.
pub fn time_of(id: &str) -> String {
    format!("{id}_at")
}
