//! Files: opened so that one program writes at a time, told from one another.

use std::fs::{File, OpenOptions, TryLockError};
use std::io;
use std::os::windows::fs::OpenOptionsExt;
use std::path::Path;

/// Others may read, rename and delete the file while it is open, and not write to it: a lock would keep
/// readers out too. (`FILE_SHARE_READ` and `FILE_SHARE_DELETE` of the Windows interface.)
const OTHERS_MAY_READ: u32 = 0x1 | 0x4;
/// Others may do anything (with `FILE_SHARE_WRITE`).
const OTHERS_MAY_WRITE: u32 = OTHERS_MAY_READ | 0x2;
/// What Windows answers when a file is open to a writer already (`ERROR_SHARING_VIOLATION`).
const SHARING_VIOLATION: i32 = 32;

/// Opens without keeping a writer out. Links are told before; pipes have names of their own here.
pub(crate) fn not_waiting(options: &mut OpenOptions) -> &mut OpenOptions {
    options.share_mode(OTHERS_MAY_WRITE)
}

/// Opens to add to a file that nobody else writes to. A file that is only added to cannot be cut here.
pub(crate) fn one_writer(options: &mut OpenOptions) -> &mut OpenOptions {
    options.write(true).share_mode(OTHERS_MAY_READ)
}

/// Claims an open file for its one writer: done by the way it was opened.
pub(crate) fn claim(file: &File) -> Result<(), TryLockError> {
    let _ = file;
    Ok(())
}

/// Whether opening failed since another program has the file open to write.
pub(crate) fn is_claimed(error: &io::Error) -> bool {
    error.raw_os_error() == Some(SHARING_VIOLATION)
}

/// Whether an open file is the one of that name.
pub(crate) fn is_same_file(file: &File, path: &Path) -> io::Result<bool> {
    Ok(same_file::Handle::from_file(file.try_clone()?)? == same_file::Handle::from_path(path)?)
}

/// Makes the names in a folder safe: Windows does so with the file.
pub(crate) fn sync_folder(_: &Path) -> io::Result<()> {
    Ok(())
}
