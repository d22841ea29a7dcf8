//! `tankhand` guides the owner of a private well through checking, flushing, charging and
//! recommissioning bladder and diaphragm pressure tanks, computes what the work needs, and
//! keeps the record.
//!
//! The folders form layers; each imports only from layers below it (`DEVELOPERS.md` has the
//! table, `tests/tidy/` enforces it).

// Without the terminal much is there that only the use cases call.
#![cfg_attr(not(feature = "terminal"), allow(dead_code, unused_imports))]
// What is `pub` can be used from outside the crate; all else says how far it reaches.
#![cfg_attr(feature = "terminal", warn(unreachable_pub))]

// Where courses, answers, entries and causes are decided over, all of them are: a new one is refused until
// it has its arm everywhere. Hence no wildcard arms in the folders marked so.

// First, for `formula!`, which the folders above it use.
#[macro_use]
pub mod words;

#[cfg(feature = "terminal")]
pub mod app;
#[cfg(feature = "terminal")]
pub mod cli;
pub mod clock;
#[cfg(feature = "terminal")]
pub mod console;
mod disk;
pub mod document;
#[deny(clippy::wildcard_enum_match_arm)]
pub mod engine;
pub mod lang;
mod machine;
#[deny(clippy::wildcard_enum_match_arm)]
pub mod owner;
#[deny(clippy::wildcard_enum_match_arm)]
pub mod physics;
#[deny(clippy::wildcard_enum_match_arm)]
pub mod procedure;
pub mod quantity;
pub mod record;
#[deny(clippy::wildcard_enum_match_arm)]
pub mod report;
pub mod source;
pub mod system;
