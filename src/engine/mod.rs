//! The run as a state machine: answers and time go in, questions and entries come out.
//!
//! No clock, no input or output. A run is a fold over the entries of its record: live answers
//! and a record read back go through the same [`apply`](Run::replay), so a resumed run stands
//! where the interrupted one stood.

mod advance;
mod advice;
mod amend;
mod answer;
mod ask;
mod at_hand;
mod carry_over;
mod checks;
mod conclusions;
mod conflicts;
mod derivation;
mod diagnosis;
mod diagnosis_words;
mod effects;
mod evidence;
mod evidence_history;
mod evidence_hold;
mod evidence_items;
mod evidence_line;
mod evidence_set_out;
mod evidence_starts;
#[cfg(test)]
mod evidence_tests;
mod evidence_water;
mod findings;
mod fold;
mod frames;
mod gauge;
mod holding;
mod judgement;
mod loops;
mod names;
mod observations;
mod observe;
mod place;
mod provenance;
mod rested;
mod run;
mod sensitivity;
mod setting;
mod situation;
mod state;
mod to_come;
mod uncertainty_source;
mod warned;
mod warnings;
mod withdrawal;

pub use crate::procedure::{ACKNOWLEDGE, AnswerKind, Refusal};
pub use amend::NumberedAnswer;
pub use ask::Ask;
pub use carry_over::is_carried_over;
pub use diagnosis::Reasons;
pub(crate) use diagnosis_words::NEXT_TEST;
pub use fold::Misfit;
pub(crate) use judgement::CheckDerivation;
pub use place::AnswerPlace;
pub use run::{Event, Run, RunInput};
pub use setting::{EarlierAnswers, EarlierVisit, Setting};
pub use situation::Situation;
