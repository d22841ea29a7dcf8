//! What is certain about each name at the place of the walk.

use std::sync::Arc;

use rustc_hash::{FxBuildHasher, FxHashMap};

use super::conditions::Guard;
use crate::procedure::no_value::NoValue;
use crate::procedure::place::SourcePlace;

/// Whether a name was answered.
#[derive(Clone, Debug)]
pub(super) enum Answered {
    /// Certainly, under these conditions.
    When(Guard),
    /// Not certainly: the step may be skipped.
    UnlessSkipped,
    /// Not certainly: a part takes or gives it as something that may have no value.
    Perhaps,
    /// Not certainly: the loop may have no round.
    IfAnyRound(SourcePlace),
    /// Not yet in this round.
    NotYet,
}

/// A name of the procedure.
#[derive(Clone, Debug)]
pub(super) struct NameFacts {
    /// Grows when the name is answered anew or forgotten.
    pub version: u32,
    pub answered: Answered,
    /// What must have held if the name has a value.
    pub implies: Guard,
    /// Why there may be no value although it was answered, as a clause.
    pub limit: Option<NoValue>,
    /// The step that answers it; `None` for a fact.
    pub place: Option<SourcePlace>,
}

/// Every name met so far.
pub(super) struct NamesMet {
    all: FxHashMap<Arc<str>, NameFacts>,
}

impl NamesMet {
    /// No names yet, with room for `count` of them.
    pub(super) fn with_room(count: usize) -> NamesMet {
        NamesMet { all: FxHashMap::with_capacity_and_hasher(count, FxBuildHasher) }
    }

    pub(super) fn get(&self, name: &str) -> Option<&NameFacts> {
        self.all.get(name)
    }

    pub(super) fn version(&self, name: &str) -> u32 {
        self.all.get(name).map_or(0, |named| named.version)
    }

    /// Declares a fact: it is always answered.
    pub(super) fn fact(&mut self, id: &Arc<str>, unknown: bool) {
        let version = self.version(id) + 1;
        let limit = unknown.then(|| NoValue::Because(format!("`{id}` may be answered `not known`").into()));
        let always = Answered::When(Guard::new());
        let named = NameFacts { version, answered: always, implies: Guard::new(), limit, place: None };
        self.all.insert(id.clone(), named);
    }

    /// Declares a name that has no value, since the part that gives it is left out.
    pub(super) fn left_out(&mut self, name: &Arc<str>, part: &str) {
        self.fact(name, true);
        if let Some(named) = self.all.get_mut(name) {
            named.limit = Some(NoValue::LeftOut(part.into()));
        }
    }

    /// Notes that a step answers a name.
    pub(super) fn answer(&mut self, name: Arc<str>, named: NameFacts) {
        let version = self.version(&name) + 1;
        self.all.insert(name, NameFacts { version, ..named });
    }

    /// Changes what is certain about a name whose answer is another from now on.
    pub(super) fn renew(&mut self, name: &str, answered: Option<Answered>) {
        if let Some(named) = self.all.get_mut(name) {
            named.version += 1;
            named.implies.clear();
            if let Some(answered) = answered {
                named.answered = answered;
            }
        }
    }
}
