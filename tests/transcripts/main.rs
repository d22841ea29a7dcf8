//! Whole runs played from scripts: what a person sees, and what the record keeps.
//!
//! `TANKHAND_BLESS=1 cargo test --test transcripts` writes every golden anew; read the
//! difference before you commit it.

#![allow(clippy::unwrap_used)]

mod demos;
mod explained;
mod golden;
mod halves;
mod mistakes;
mod stage;
mod unforeseen;
