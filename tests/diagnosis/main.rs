//! The diagnosis against simulated owners, within one family of models.

mod calibration;
mod cases;
mod model;
#[path = "../support/mod.rs"]
mod support;
mod verb;
