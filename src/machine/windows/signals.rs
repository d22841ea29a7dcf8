//! The signals that ask the program to end.

use std::io;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use signal_hook::consts::{SIGINT, SIGTERM};

/// Ctrl-C and a request to end.
pub(crate) const ENDING_SIGNALS: &[i32] = &[SIGINT, SIGTERM];

/// No write ends a program here.
pub(crate) fn outlive_large_writes() -> io::Result<()> {
    Ok(())
}

/// Ctrl-Z and Ctrl-D: the console has its own way with them.
pub(crate) fn take_keys(_: &Arc<AtomicBool>, _: &Arc<AtomicBool>) -> io::Result<()> {
    Ok(())
}
