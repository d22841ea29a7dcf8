//! The run as a state machine: answers and time go in, questions and entries come out.
//!
//! No clock, no input or output. A run is a fold over the entries of its record: live answers
//! and a record read back go through the same [`apply`](Run::replay), so a resumed run stands
//! where the interrupted one stood.

mod advance;
mod answer;
mod ask;
mod doubt;
mod effects;
mod frames;
mod loops;
mod names;
mod run;
mod setting;
mod settle;
mod whatif;
mod worked;

pub use advance::FROM_SYSTEM_FILE;
pub use answer::Refusal;
pub use ask::{Ask, Choice, Place, Wanted};
pub use doubt::Doubt;
pub use run::{Event, Input, Misfit, Run};
pub use setting::{ACKNOWLEDGE, Past, Setting};
pub use worked::{Weighed, Worked};
