//! Pages of faults, procedures and records, whole.

#![allow(clippy::unwrap_used)]

mod accounts;
mod faults;
mod figures;
#[path = "../support/golden.rs"]
mod golden;
mod markup;
mod one_number;
mod pages;
mod runs;
mod samples;
mod sheets;
#[path = "../support/stage.rs"]
mod stage;
#[path = "../support/mod.rs"]
mod support;
mod text;
