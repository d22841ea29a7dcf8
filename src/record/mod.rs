//! The record of a run: one append-only TOML file, sealed entry by entry.

mod entry;

pub use entry::{Entry, EntryKind, Header, KeptText, Outcome, Summary, TextRole};
