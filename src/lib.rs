//! `tankhand` guides the owner of a private well through checking, flushing, charging and
//! recommissioning bladder and diaphragm pressure tanks, computes what the work needs, and
//! keeps the record.
//!
//! The folders form layers; each imports only from layers below it (`DEVELOPERS.md` has the
//! table, `tests/tidy/` enforces it).

// Where courses, answers and entries are decided over, all of them are: a new one is refused until
// it has its arm everywhere. Hence no wildcard arms in the folders marked so.

pub mod app;
pub mod cli;
pub mod clock;
pub mod console;
pub mod document;
#[deny(clippy::wildcard_enum_match_arm)]
pub mod engine;
pub mod lang;
pub mod owner;
pub mod physics;
#[deny(clippy::wildcard_enum_match_arm)]
pub mod procedure;
pub mod quantity;
pub mod record;
#[deny(clippy::wildcard_enum_match_arm)]
pub mod report;
pub mod source;
pub mod system;
pub mod words;
