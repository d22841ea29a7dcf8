//! The diagnosis against simulated owners, within one family of models.

#[path = "../support/golden.rs"]
mod golden;
#[path = "../support/mod.rs"]
mod support;

mod answers;
mod calibration;
mod cases;
mod grid;
mod model;
mod verb;
