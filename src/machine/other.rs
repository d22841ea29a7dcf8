//! Machines of no kind known here: they have files by what the standard library says, and no more.

use std::fs::{File, OpenOptions, TryLockError};
use std::io;
use std::path::Path;
use std::time::Duration;

/// Opens as it is.
pub(crate) fn not_waiting(options: &mut OpenOptions) -> &mut OpenOptions {
    options
}

/// Opens to add to a file.
pub(crate) fn one_writer(options: &mut OpenOptions) -> &mut OpenOptions {
    options.append(true)
}

/// Claims an open file for its one writer.
pub(crate) fn claim(file: &File) -> Result<(), TryLockError> {
    file.try_lock()
}

/// Whether opening failed since the file is claimed.
pub(crate) fn is_claimed(_: &io::Error) -> bool {
    false
}

/// Whether an open file is the one of that name: cannot be told.
pub(crate) fn is_same_file(_: &File, _: &Path) -> io::Result<bool> {
    Err(io::ErrorKind::Unsupported.into())
}

/// Makes the names in a folder safe: cannot be done.
pub(crate) fn sync_folder(_: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

/// How long the machine has run: cannot be told.
pub(crate) fn running() -> Duration {
    Duration::ZERO
}

/// Names the machine's present start: nothing does.
pub(crate) fn start_of_machine() -> Option<String> {
    None
}
