//! A simulated owner: answers any procedure from a simulated installation.
//!
//! It knows no step and reads no prose. What it does follows from the states that a step brings about
//! and ends; what it answers follows from what the answer is of, from the table of observables. So it
//! answers an owner's own procedure as well as those that come with the program.
//!
//! [`Household`] is the installation with its gauges and all that its owner knows of it; [`DEFECTS`] are
//! the ways in which it may be ill; [`Owner`] does what a question of a run asks for, and answers it.

mod attempts;
mod defects;
mod eyes;
mod hands;
mod household;
mod memory;
mod mistakes;
mod numbers;
mod person;
mod random;
mod telling;
mod words;

pub use attempts::Attempt;
pub use defects::{DEFECTS, Defect, KINDS, defect};
pub use household::Household;
pub use mistakes::Mistakes;
pub use person::{Danger, Owner};
