//! A clock that nobody sets, from the program's start. What names the machine's own start cannot be had.

use std::sync::OnceLock;
use std::time::{Duration, Instant};

/// How long since the clock was first looked at.
pub(crate) fn running() -> Duration {
    static START: OnceLock<Instant> = OnceLock::new();
    START.get_or_init(Instant::now).elapsed()
}

/// Names the machine's present start: nothing here does.
pub(crate) fn start_of_machine() -> Option<String> {
    None
}
