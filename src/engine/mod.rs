//! The run as a state machine: answers and time go in, questions and entries come out.
//!
//! No clock, no input or output. A run is a fold over the entries of its record: live answers
//! and a record read back go through the same [`apply`](Run::replay), so a resumed run stands
//! where the interrupted one stood.

mod advance;
mod answer;
mod ask;
mod at_hand;
mod doubt;
mod effects;
mod fold;
mod frames;
mod loops;
mod names;
mod run;
mod setting;
mod settle;
mod state;
mod weighed;
mod whatif;
mod worked;

pub use crate::procedure::{ACKNOWLEDGE, Choice, Refusal, Wanted};
pub use advance::FROM_SYSTEM_FILE;
pub use ask::Ask;
pub use doubt::Doubt;
pub use fold::Misfit;
pub use run::{Event, Input, Run};
pub use setting::{Past, Setting};
pub use state::Place;
pub use weighed::Weighed;
pub use worked::Worked;
