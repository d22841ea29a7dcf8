//! Pages of faults, procedures and records, whole.

#![allow(clippy::unwrap_used)]

mod faults;
mod golden;
mod pages;
mod runs;
mod samples;
mod text;
