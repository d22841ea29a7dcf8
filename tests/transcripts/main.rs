//! Whole runs played from scripts: what a person sees, and what the record keeps.

#![allow(clippy::unwrap_used)]

mod demos;
mod effort;
mod explained;
#[path = "../support/golden.rs"]
mod golden;
mod halves;
mod mistakes;
#[path = "../support/stage.rs"]
mod stage;
mod unforeseen;
