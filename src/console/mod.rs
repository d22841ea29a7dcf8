//! Talking to a person: one trait, several faces.

mod face;

pub use face::{Block, Command, Countdown, CountdownEnd, Ended, Face, Prompt, Reply, Want};
