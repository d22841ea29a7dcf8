//! A procedure as the engine gets it: checked, with parts in place.

use std::sync::Arc;

use super::fact::Fact;
use super::hazards::Hazard;
use super::leave_out::LeftOutPart;
use super::observables::Observable;
use super::step::{LoopKind, Step};
use crate::source::SourceText;

/// A loaded procedure.
#[derive(Clone, Debug)]
pub struct Procedure {
    /// What it does, as a heading.
    pub title: String,
    /// What a report of it is headed, as a noun.
    pub report: Option<String>,
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
    pub states: Vec<Arc<State>>,
    /// The steps.
    pub steps: Vec<Step>,
    /// The parts left out, where they would stand.
    pub left_out: Vec<LeftOutPart>,
    /// Its own text and that of every part it uses.
    pub texts: Vec<SourceText>,
}

/// Steps and those inside them, in their order.
pub(crate) fn flat(steps: &[Step]) -> Box<dyn Iterator<Item = &Step> + '_> {
    Box::new(steps.iter().flat_map(|step| std::iter::once(step).chain(flat(step.body()))))
}

/// The step of that id among steps and those inside them.
fn found<'s>(steps: &'s [Step], id: &str) -> Option<&'s Step> {
    steps.iter().find_map(|step| if *step.id == *id { Some(step) } else { found(step.body(), id) })
}

impl Procedure {
    /// How many steps it has, those inside loops too.
    pub fn count(&self) -> usize {
        self.all_steps().count()
    }

    /// Every step, each followed by those inside it.
    pub fn all_steps(&self) -> impl Iterator<Item = &Step> {
        flat(&self.steps)
    }

    /// Whether it is about one tank, so that one must be chosen where there are several.
    pub fn is_for_one_tank(&self) -> bool {
        !self.goes_round() && self.facts.iter().any(Fact::is_about_a_tank)
    }

    /// Whether it takes all tanks one by one.
    pub fn goes_round(&self) -> bool {
        let each =
            |step: &Step| step.course().comes_round().is_some_and(|(which, _)| which == LoopKind::Each);
        self.steps.iter().any(each)
    }

    /// The step of that id, inside loops too.
    pub fn step(&self, id: &str) -> Option<&Step> {
        found(&self.steps, id)
    }

    /// The parts, and the needs of shipped steps, that an owner's file leaves out, each in a sentence with
    /// its reason where it has one.
    pub fn waivers(&self) -> Vec<String> {
        let message = |step: &Step| {
            let step_name = step.name();
            let each = step.without.iter().map(move |waiver| {
                let means = self.states.iter().find(|state| state.id == waiver.need);
                let means = means.map_or(String::new(), |state| format!(" ({})", state.means));
                format!("{step_name} without `{}`{means}: {}", waiver.need, waiver.because)
            });
            each.collect::<Vec<_>>()
        };
        let mut parts: Vec<String> = self.left_out.iter().map(|left| left.part.clone()).collect();
        parts.dedup();
        parts.into_iter().chain(self.all_steps().flat_map(message)).collect()
    }

    /// What can hurt in work that needs a state.
    pub fn hazards_of(&self, state: &str) -> &[&'static Hazard] {
        let known = self.states.iter().find(|known| *known.id == *state);
        known.map_or(&[], |state| &state.hazards)
    }

    /// The facts and steps whose answers are of an observable, in their order.
    pub fn observing(&self, observable: &str) -> Vec<Arc<str>> {
        let is_of = |observes: Option<&Observable>| observes.is_some_and(|known| known.name == observable);
        let facts = self.facts.iter().filter(|fact| is_of(fact.observes)).map(|fact| fact.id.clone());
        let steps = flat(&self.steps).filter(|step| is_of(step.observes)).map(|step| step.id.clone());
        facts.chain(steps).collect()
    }

    /// What a person calls the answer of a step or fact.
    pub fn label(&self, id: &str) -> String {
        if let Some(step) = self.step(id) {
            return step.name();
        }
        let fact = self.facts.iter().find(|fact| *fact.id == *id);
        fact.map_or_else(|| id.replace('_', " "), Fact::name)
    }
}

/// A physical condition that steps bring about, rely on and undo.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Its name.
    pub id: Arc<str>,
    /// What it means, for a person.
    pub means: String,
    /// How things stand while it holds, in a few words; nothing where that goes without saying.
    pub stands: Option<String>,
    /// The same once a step has undone it.
    pub undone: Option<String>,
    /// What can hurt in work that needs it.
    pub hazards: Vec<&'static Hazard>,
}
