//! `tankhand` guides the owner of a private well through checking, flushing, charging and
//! recommissioning bladder and diaphragm pressure tanks, computes what the work needs, and
//! keeps the record.
//!
//! The folders form layers; each imports only from layers below it (`DEVELOPERS.md` has the
//! table, `tests/tidy/` enforces it).

pub mod app;
pub mod cli;
pub mod clock;
pub mod console;
pub mod document;
pub mod engine;
pub mod lang;
pub mod physics;
pub mod procedure;
pub mod quantity;
pub mod record;
pub mod report;
pub mod source;
pub mod system;
pub mod words;
