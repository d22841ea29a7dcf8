//! The signals that ask the program to end, and those that keys stand for while the key mode is held.

use std::io;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use signal_hook::consts::{SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGTSTP};

/// Ctrl-C, a request to end, a terminal that was closed.
pub(crate) const ENDING_SIGNALS: &[i32] = &[SIGINT, SIGTERM, SIGHUP];

/// Has Ctrl-Z raise one flag and Ctrl-D the other.
pub(crate) fn take_keys(stop: &Arc<AtomicBool>, end: &Arc<AtomicBool>) -> io::Result<()> {
    signal_hook::flag::register(SIGTSTP, Arc::clone(stop))?;
    signal_hook::flag::register(SIGQUIT, Arc::clone(end))?;
    Ok(())
}
