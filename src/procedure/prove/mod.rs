//! Proofs over every path through a procedure, made each time one is loaded.
//!
//! The steps are walked once, in their order, with what is certain at each place (an abstract
//! interpretation; loops are walked a second time for what they do to states). Paths are never
//! listed: where they come together, what holds on all of them is kept, some of it under the
//! conditions that steps asked for. The cost grows with the number of steps.
//!
//! **Known.** A name must have been answered wherever it is used. It may not have been when its
//! step has a `when` or may be skipped, or stands in a loop that may have no round. It is known
//! - after `known(x)` in an `and`, in the `when` of the step or of a loop around it, in the branch
//!   of an `if`, or after a `check` with `must` that asked for it;
//! - where the same is asked for as when it was answered: each condition of that `when`, in any
//!   order and as printed, with no name in it answered anew since;
//! - after a `stop` that had the opposite as its `when`;
//! - in a step that asks for it by itself, since it only says something and is left out where that was not answered.
//!   One that waits for a name in vain is told of.
//!
//! A value worked out by a formula with a range, or by a division, may be answered and still have
//! no value. It says so in texts, passes through `compute`, makes a `check` say that it can't
//! tell, and as a limit does not bind. But where it would decide what is done, in `when`, `until`
//! and the length of a `wait`, it must be asked for with `known(x)`.
//!
//! **States.** What a step `needs` must have been brought about on every path, and not ended
//! since. A `check` with `must` brings its states about, since the run stops when it fails (when
//! it can't tell, the run goes on, and the state counts as brought: its `unsure` text should say
//! so). Not certain are those of a `check` without `must`, which may fail; of a step that may be
//! skipped; and of a `repeat`, whose rounds may run out: they hold where the check's name or its
//! expression, the name of the skipped answer, or `until` is asked for. This is stricter than
//! what the engine notes for a `repeat`. Two steps with opposite conditions that bring the
//! same state make it certain.
//!
//! **Evidence.** A state that stands for a physical fact counts as brought about only by a step that can
//! show it: the table in `evidence` says what does.
//!
//! **Hazards.** The message of a hazard comes before the act: a step that needs a state with
//! `hazards` names them itself, or a step on every path to it does, after which no step undid a
//! state with that hazard.
//!
//! **Parts.** A part is proven by itself, from what its head says to what it says; where it is used,
//! its head stands for it. What it does not give cannot be spoken of outside.
//!
//! **Besides.** No good finding stands before one that may be worse. No step stands behind the certain end of the
//! work, and no name that the program makes itself is one of the file's.
//!
//! **Assumed.** That numbers stay finite, that `settled` of numbers is not asked about negative
//! ones, and that a person did what they say they did.

mod by_itself;
mod choices;
mod conditions;
mod context;
mod effects;
mod entered;
mod evidence;
mod examine;
mod expressions;
mod good;
mod hazards;
mod loops;
mod names;
mod parts;
mod path;
mod prover;
mod reserved_names;
mod spelling;
mod states;
#[cfg(test)]
mod tests;
mod words;

use super::model::Procedure;
use crate::source::Fault;

pub use evidence::shown_by;
pub(super) use parts::prove_part;

/// Walks every path and returns what could go wrong on one of them.
pub(super) fn prove(procedure: &Procedure) -> Vec<Fault> {
    let mut walk = prover::Prover::new(procedure);
    walk.block(&procedure.steps);
    let mut faults = walk.into_faults();
    faults.extend(reserved_names::reserved_names(procedure));
    faults
}
