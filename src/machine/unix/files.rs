//! Files: opened without waiting, claimed by one writer, told from one another, made safe by name.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::os::unix::fs::{MetadataExt, OpenOptionsExt};
use std::path::Path;

use rustix::fs::OFlags;

/// Opens so that no link is followed, and no pipe waited for.
pub(crate) fn not_waiting(options: &mut OpenOptions) -> &mut OpenOptions {
    // Flags fit: they are what the system's own call takes.
    let flags = i32::try_from((OFlags::NOFOLLOW | OFlags::NONBLOCK).bits()).unwrap_or(0);
    options.custom_flags(flags)
}

/// Opens to add to a file; that nobody else does, [`claim`] sees to.
pub(crate) fn one_writer(options: &mut OpenOptions) -> &mut OpenOptions {
    not_waiting(options.append(true))
}

/// Claims an open file for its one writer, for as long as it is open.
pub(crate) fn claim(file: &File) -> Result<(), TryLockError> {
    file.try_lock()
}

/// Whether opening failed since the file is claimed; here that is found by [`claim`].
pub(crate) fn is_claimed(_: &io::Error) -> bool {
    false
}

/// Whether an open file is the one of that name.
pub(crate) fn is_same_file(file: &File, path: &Path) -> io::Result<bool> {
    let (open, named) = (file.metadata()?, fs::symlink_metadata(path)?);
    Ok((open.dev(), open.ino()) == (named.dev(), named.ino()))
}

/// Makes the names in a folder safe; file systems that know no such thing are forgiven.
pub(crate) fn sync_folder(folder: &Path) -> io::Result<()> {
    match File::open(folder)?.sync_all() {
        Err(error) if error.kind() == io::ErrorKind::InvalidInput => Ok(()),
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A pipe that takes the file's place after the look at it is not waited for.
    #[test]
    fn what_is_opened_is_never_waited_for() {
        let file = tempfile::NamedTempFile::new().unwrap();
        let opened = not_waiting(OpenOptions::new().read(true)).open(file.path()).unwrap();
        assert!(rustix::fs::fcntl_getfl(&opened).unwrap().contains(OFlags::NONBLOCK));
    }
}
