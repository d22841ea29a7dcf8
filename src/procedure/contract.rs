//! What a part is to its user: what it takes and gives, and what its proof found.

use std::sync::Arc;

use super::drafting::Id;
use super::hazards::Hazard;
use super::no_value::NoValue;
use super::place::SourcePlace;
use crate::lang::{CheckedExpr, Type};

/// What is looked at where a part is used.
#[derive(Debug)]
pub(super) struct Interface {
    /// Its name, such as `parts/drain`.
    pub name: String,
    pub takes: Vec<Term>,
    pub gives: Vec<Term>,
    pub needs: Vec<Contract>,
    pub brings: Vec<Contract>,
    pub undoes: Vec<Contract>,
    /// What its proof found beside.
    pub proven: Proven,
}

/// A name that a part takes or gives, as it is known where the part is used.
#[derive(Clone, Debug)]
pub(super) struct Term {
    pub id: Id,
    pub ty: Type,
    pub maybe: bool,
}

/// A state that a part needs, brings or undoes, and when it does.
#[derive(Clone, Debug)]
pub(super) struct Contract {
    pub state: Arc<str>,
    pub when: Option<CheckedExpr>,
    pub place: SourcePlace,
}

/// A part in its place among the steps of its user.
#[derive(Debug)]
pub(super) struct Placed {
    pub interface: Arc<Interface>,
    /// How many steps of the block are the part's.
    pub steps: usize,
    /// Where it is used.
    pub place: SourcePlace,
}

/// What the proof of a part found beside what its head says.
#[derive(Clone, Debug, Default)]
pub(super) struct Proven {
    /// Hazards whose message must have been shown before.
    pub wary: Vec<&'static Hazard>,
    /// Hazards whose message was shown, whatever was before: certainly, or where the part brings
    /// about the state at this place of its head.
    pub shown: Vec<(&'static Hazard, Option<usize>)>,
    /// Hazards whose message may have to be shown again after it.
    pub forgotten: Vec<&'static Hazard>,
    /// The names it takes that decide what is done, so that they must have a value.
    pub decides: Vec<Arc<str>>,
    /// How certain each name is that it gives.
    pub gives: Vec<Certainty>,
    /// What may be found in it.
    pub finds: MayFind,
    /// Whether the run certainly ends in it.
    pub ends: bool,
}

/// What steps may find.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct MayFind {
    /// As a good finding.
    pub good: bool,
    /// As one worse than a note.
    pub worse: bool,
}

/// How certain a name is that a part gives.
#[derive(Clone, Debug)]
pub(super) enum Certainty {
    Sure,
    /// It has no value where something it takes has none.
    AsGiven,
    /// It is answered, but may have no value.
    Limited(NoValue),
    Perhaps,
}
