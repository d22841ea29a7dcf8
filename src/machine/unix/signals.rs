//! The signals that ask the program to end, those that keys stand for while the key mode is held, and one that
//! would end it in the middle of a write.

use std::io;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use signal_hook::consts::{SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGTSTP, SIGXFSZ};

/// Ctrl-C, a request to end, a terminal that was closed.
pub(crate) const ENDING_SIGNALS: &[i32] = &[SIGINT, SIGTERM, SIGHUP];

/// Has a write past the largest size that a file may have (`ulimit -f`) be refused, as one on a full disk is.
pub(crate) fn outlive_large_writes() -> io::Result<()> {
    signal_hook::flag::register(SIGXFSZ, Arc::default()).map(|_| ())
}

/// Has Ctrl-Z raise one flag and Ctrl-D the other.
pub(crate) fn take_keys(stop: &Arc<AtomicBool>, end: &Arc<AtomicBool>) -> io::Result<()> {
    signal_hook::flag::register(SIGTSTP, Arc::clone(stop))?;
    signal_hook::flag::register(SIGQUIT, Arc::clone(end))?;
    Ok(())
}
