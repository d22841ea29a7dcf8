//! A step of a loaded procedure, as a rule looks at it.

use std::fmt;

use tankhand::app::Library;
use tankhand::procedure::{Course, Procedure, Step};

/// A shipped procedure, proven.
pub struct Loaded {
    pub name: String,
    pub procedure: Procedure,
}

/// A step in its place.
pub struct Act<'a> {
    pub loaded: &'a Loaded,
    pub step: &'a Step,
    /// The steps before it, those of loops too.
    pub before: Vec<&'a Step>,
}

/// Every shipped procedure.
pub fn loaded() -> Vec<Loaded> {
    let library = Library::default();
    let load = |name: String| Loaded { procedure: library.load(&name).ok().unwrap(), name };
    library.procedures().into_iter().map(load).collect()
}

impl<'a> Act<'a> {
    /// Every step of a procedure.
    pub fn of_all(loaded: &'a Loaded) -> impl Iterator<Item = Act<'a>> {
        let steps: Vec<&Step> = loaded.procedure.all_steps().collect();
        (0..steps.len()).map(move |at| Act { loaded, step: steps[at], before: steps[..at].to_vec() })
    }

    pub fn needs(&self, state: &str) -> bool {
        self.step.needs.iter().any(|(needed, _)| **needed == *state)
    }

    pub fn needs_all(&self, states: &[&str]) -> bool {
        states.iter().all(|state| self.needs(state))
    }

    /// Brings a state about and goes on.
    pub fn brings(&self, state: &str) -> bool {
        self.asks() && self.step.brings.iter().any(|brought| **brought == *state)
    }

    pub fn undoes(&self, state: &str) -> bool {
        self.step.undoes.iter().any(|undone| **undone == *state)
    }

    /// A person does or answers something there.
    pub fn asks(&self) -> bool {
        matches!(self.step.course(), Course::Ask(_))
    }

    /// The status that is typed.
    pub fn status(&self) -> Option<&str> {
        self.step.course().asks()?.shows().status
    }

    /// Whether "it is not so" has a way that ends the work.
    pub fn may_end(&self) -> bool {
        let shows = self.step.course().asks().map(|asks| asks.shows());
        shows.and_then(|shows| shows.otherwise).is_some_and(|it| it.stops)
    }

    pub fn reads(&self, observable: &str) -> bool {
        self.asks() && self.step.observes.is_some_and(|known| known.name == observable)
    }

    /// What is to be done, in small letters.
    pub fn order(&self) -> String {
        let shows = self.step.course().asks().map(|asks| asks.shows());
        shows.and_then(|shows| shows.text).map_or(String::new(), |text| text.unfilled().to_lowercase())
    }

    pub fn orders(&self, words: &[&str]) -> bool {
        let order = self.order();
        words.iter().any(|word| order.contains(word))
    }

    /// What is told when a check fails that must hold, in small letters.
    pub fn ends_with(&self) -> Option<String> {
        let check = self.step.course().checks().filter(|check| check.must)?;
        Some(check.fail.as_ref()?.unfilled().to_lowercase())
    }

    /// The message of a hazard stands here, or is proven to have stood before.
    pub fn warns(&self, hazard: &str) -> bool {
        let named = self.step.hazards.iter().any(|known| known.id == hazard);
        let of_state = |state: &str| self.loaded.procedure.hazards_of(state).iter().any(|it| it.id == hazard);
        named || self.step.needs.iter().any(|(state, _)| of_state(state))
    }

    /// The message stands here or at a step before.
    pub fn warned(&self, hazard: &str) -> bool {
        self.warns(hazard) || names(&self.before, hazard)
    }

    /// Hazards whose message stands here for the first time.
    pub fn new_hazards(&self) -> usize {
        self.step.hazards.iter().filter(|it| !names(&self.before, it.id)).count()
    }

    /// Whether what was opened is closed again, as the steps stand.
    pub fn is_closed(&self, state: &str) -> bool {
        let touches =
            |step: &&&Step| step.brings.iter().chain(&step.undoes).any(|touched| **touched == *state);
        let last = self.before.iter().rev().find(touches);
        last.is_none_or(|step| step.undoes.iter().any(|undone| **undone == *state))
    }
}

fn names(steps: &[&Step], hazard: &str) -> bool {
    steps.iter().any(|step| step.hazards.iter().any(|known| known.id == hazard))
}

impl fmt::Display for Act<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}` of {}", self.step.id, self.loaded.name)
    }
}
