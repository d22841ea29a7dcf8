//! Pages of faults, procedures and records, whole.

mod faults;
mod golden;
mod pages;
mod runs;
mod samples;
mod text;
