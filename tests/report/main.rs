//! Pages of faults, procedures and records, whole.

#![allow(clippy::unwrap_used)]

mod accounts;
mod faults;
mod figures;
mod golden;
mod markup;
mod pages;
mod runs;
mod samples;
#[path = "../transcripts/stage.rs"]
#[allow(dead_code)]
mod stage;
mod text;
