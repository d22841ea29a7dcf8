//! Records from outside: written, read back, cut, spoiled, crashed, and read by a stranger.

#![allow(clippy::unwrap_used)]

mod accounts;
mod any;
mod commands;
mod copies;
mod crash;
mod cuts;
mod entries;
mod export;
mod fields;
mod files;
mod folder;
mod format;
#[path = "../support/golden.rs"]
mod golden;
mod kept;
mod later;
mod logbook;
#[path = "../support/markdown.rs"]
mod markdown;
mod mending;
mod python;
mod round_trip;
mod samples;
mod signature;
#[path = "../support/stage.rs"]
mod stage;
mod stranger;
mod trend;
mod troubles;
