//! A procedure as the engine gets it: checked, with parts in place.

use std::sync::Arc;

use super::parts::Placed;
use super::steps::Action;
use crate::lang::{Checked, Template};
use crate::quantity::Kind;
use crate::source::{SourceText, Span};

/// A loaded procedure.
#[derive(Clone, Debug)]
pub struct Procedure {
    /// What it does, as a heading.
    pub title: String,
    /// What it is for, in a sentence or two.
    pub purpose: String,
    /// How long it takes, in words.
    pub time: Option<String>,
    /// What to bring.
    pub bring: Vec<String>,
    /// The probability at which its checks say pass or fail, where it or a part asks for one.
    pub confidence: Option<f64>,
    /// What must be known before the first step.
    pub facts: Vec<Fact>,
    /// The physical conditions its steps speak of.
    pub states: Vec<State>,
    /// The steps.
    pub steps: Vec<Step>,
    /// Its own text and that of every part it uses.
    pub texts: Vec<SourceText>,
}

/// Something true before the run starts.
#[derive(Clone, Debug)]
pub struct Fact {
    /// Its name.
    pub id: Arc<str>,
    /// What it is.
    pub kind: Kind,
    /// The question, when it must be asked.
    pub ask: String,
    /// Where the system file may have it.
    pub from: Option<Arc<str>>,
    /// The range outside which an answer is refused.
    pub between: Option<Limits>,
    /// What an empty answer means.
    pub usual: Option<Usual>,
    /// It is only asked for when this holds; else the usual answer stands.
    pub when: Option<Checked>,
    /// Why it is asked.
    pub why: Option<String>,
}

impl Fact {
    /// Whether the system file has it for each tank.
    pub fn is_about_a_tank(&self) -> bool {
        self.from.as_ref().is_some_and(|path| path.starts_with("tank."))
    }
}

impl Procedure {
    /// Whether it is about one tank, so that one must be chosen where there are several.
    pub fn is_for_one_tank(&self) -> bool {
        !self.goes_round() && self.facts.iter().any(Fact::is_about_a_tank)
    }

    /// Whether it takes all tanks one by one.
    pub fn goes_round(&self) -> bool {
        self.steps.iter().any(|step| matches!(step.action, Action::Each(_)))
    }
}

/// What an empty answer to a fact means.
#[derive(Clone, Debug)]
pub enum Usual {
    /// This value.
    Value(Checked),
    /// This word or text.
    Word(String),
}

/// A lowest and a highest value.
#[derive(Clone, Debug)]
pub struct Limits {
    /// The lowest.
    pub low: Checked,
    /// The highest.
    pub high: Checked,
}

/// A physical condition that steps bring about, rely on and undo.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct State {
    /// Its name.
    pub id: Arc<str>,
    /// What it means, for a person.
    pub means: String,
    /// Work that needs it can hurt: a danger must have been acknowledged before.
    pub hazard: bool,
}

/// One step.
#[derive(Clone, Debug)]
pub struct Step {
    /// Its name, unique in the procedure; made from verb and place when the file gives none.
    pub id: Arc<str>,
    /// What reports call its answer; else its id with spaces.
    pub label: Option<String>,
    /// Under which heading of the summary its answer stands.
    pub tells: Option<Tells>,
    /// A heading, where a new part of the work begins.
    pub title: Option<Template>,
    /// The step is left out when this does not hold.
    pub when: Option<Checked>,
    /// Why it is done.
    pub why: Option<Template>,
    /// How it is done.
    pub how: Option<Template>,
    /// States it relies on, with the places of their names.
    pub needs: Vec<(Arc<str>, Span)>,
    /// States it brings about.
    pub brings: Vec<Arc<str>>,
    /// States it ends.
    pub undoes: Vec<Arc<str>>,
    /// It may be skipped, with a reason.
    pub skip: bool,
    /// What it is.
    pub action: Action,
    /// The text it stands in.
    pub source: SourceText,
    /// Where it stands.
    pub span: Span,
    /// The part that begins with it, when one does.
    pub(super) part: Option<Arc<Placed>>,
}

/// What an answer tells of, in a summary.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tells {
    /// How things were found.
    Found,
    /// What was done.
    Done,
    /// How things were left.
    Left,
}

/// Steps and those inside them, in their order.
pub(super) fn flat(steps: &[Step]) -> Box<dyn Iterator<Item = &Step> + '_> {
    Box::new(steps.iter().flat_map(|step| std::iter::once(step).chain(flat(step.body()))))
}

impl Procedure {
    /// How many steps it has, those inside loops too.
    pub fn count(&self) -> usize {
        flat(&self.steps).count()
    }

    /// The step of that id, inside loops too.
    pub fn step(&self, id: &str) -> Option<&Step> {
        fn find<'p>(block: &'p [Step], id: &str) -> Option<&'p Step> {
            block.iter().find_map(|step| if *step.id == *id { Some(step) } else { find(step.body(), id) })
        }
        find(&self.steps, id)
    }

    /// What a person calls the answer of a step or fact.
    pub fn label(&self, id: &str) -> String {
        self.step(id).map_or_else(|| id.replace('_', " "), Step::name)
    }
}

impl Step {
    /// What reports call its answer.
    pub fn name(&self) -> String {
        self.label.clone().unwrap_or_else(|| self.id.replace('_', " "))
    }

    /// The steps inside it, when it is a loop.
    pub fn body(&self) -> &[Step] {
        match &self.action {
            Action::Repeat(repeat) => &repeat.body,
            Action::Each(each) => &each.body,
            _ => &[],
        }
    }
}
