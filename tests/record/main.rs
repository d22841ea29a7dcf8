//! Records from outside: written, read back, cut, spoiled, crashed, and read by a stranger.

#![allow(clippy::unwrap_used)]

mod any;
mod crash;
mod cuts;
mod files;
mod folder;
mod golden;
mod later;
mod round_trip;
mod samples;
mod stranger;
