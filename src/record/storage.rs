//! Where a record's bytes go: a file that is only ever added to, or a stand-in for tests.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use super::fault::{RecordFault, Trouble};
use super::rescue;
use crate::disk::part_beside;
use crate::machine::{claim, is_claimed, not_waiting, one_writer};

/// The most bytes a record may have; a long run with its texts has a few hundred thousand.
pub const LARGEST_RECORD_BYTES: u64 = 64 * 1024 * 1024;

/// Something bytes can be added to and made safe on.
pub trait Storage {
    /// Adds bytes at the end, in one write.
    ///
    /// # Errors
    /// Whatever the machine refuses; some of the bytes may have been added then.
    fn append(&mut self, bytes: &[u8]) -> io::Result<()>;

    /// Returns when all that was added would outlive a power cut.
    ///
    /// # Errors
    /// Whatever the machine refuses; what was added since the last success may be lost then.
    fn sync(&mut self) -> io::Result<()>;

    /// Drops everything after the first `length` bytes, and makes that safe.
    ///
    /// # Errors
    /// Whatever the machine refuses.
    fn cut(&mut self, length: u64) -> io::Result<()>;

    /// What became of the file of that name, in which that was written; `None` when it is as it was left, or
    /// there is none.
    fn displaced(&mut self, _path: &Path, _written: &[u8]) -> Option<&'static str> {
        None
    }

    /// Saves a whole record in a new file, and says where.
    ///
    /// # Errors
    /// Whatever the machine refuses.
    fn save(&self, _path: &Path, _bytes: &[u8]) -> io::Result<PathBuf> {
        Err(io::ErrorKind::Unsupported.into())
    }
}

/// A file on the disk, locked against other writers.
#[derive(Debug)]
pub struct FileStorage {
    file: File,
    /// When it was last written to here.
    left: Option<SystemTime>,
    warning: Option<String>,
}

impl Storage for FileStorage {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.file.seek(SeekFrom::End(0))?;
        self.file.write_all(bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        self.file.sync_data()?;
        self.left = written_at(&self.file);
        Ok(())
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.file.set_len(length)?;
        self.file.sync_all()
    }

    fn displaced(&mut self, path: &Path, written: &[u8]) -> Option<&'static str> {
        rescue::displaced(&mut self.file, path, written, self.left)
    }

    fn save(&self, path: &Path, bytes: &[u8]) -> io::Result<PathBuf> {
        rescue::save(path, bytes)
    }
}

/// A process that was being started meanwhile may hold the file open for a moment longer; the lock must
/// not outlive its writer for that.
impl Drop for FileStorage {
    fn drop(&mut self) {
        let _ = self.file.unlock();
    }
}

impl FileStorage {
    /// Makes a new file beside `path`, under a hidden name no one else uses, and locks it.
    pub(super) fn new_file(path: &Path) -> io::Result<(FileStorage, PathBuf)> {
        let (file, part) =
            part_beside(path, |part| one_writer(OpenOptions::new().read(true).create_new(true)).open(part))?;
        let warning = claim(&file).err().map(|error| no_lock(&error.to_string()));
        Ok((FileStorage { left: written_at(&file), file, warning }, part))
    }

    /// Opens a record to add to it, and locks it.
    pub(super) fn open(path: &Path) -> Result<FileStorage, RecordFault> {
        let file = open_plain(path, one_writer(OpenOptions::new().read(true)))?;
        let warning = match claim(&file) {
            Ok(()) => None,
            Err(TryLockError::WouldBlock) => return Err(Trouble::Busy.at(path)),
            Err(TryLockError::Error(error)) => Some(no_lock(&error.to_string())),
        };
        Ok(FileStorage { left: written_at(&file), file, warning })
    }

    /// Everything in the file.
    pub(super) fn bytes(&mut self, path: &Path) -> Result<Vec<u8>, RecordFault> {
        read_all(&mut self.file).map_err(|trouble| trouble.at(path))
    }

    /// What the person should know about this file: that the system offers no lock on it.
    pub fn warning(&self) -> Option<&str> {
        self.warning.as_deref()
    }
}

/// When a file was last written to, where its disk tells.
fn written_at(file: &File) -> Option<SystemTime> {
    file.metadata().and_then(|it| it.modified()).ok()
}

fn no_lock(error: &str) -> String {
    format!("this disk offers no lock ({error}); take care that only one tankhand writes the record")
}

/// Opens a plain file to read it: no link is followed, no pipe waited for, no writer kept out.
pub(super) fn open_to_read(path: &Path) -> Result<File, RecordFault> {
    open_plain(path, not_waiting(OpenOptions::new().read(true)))
}

/// Opens a plain file, and nothing else.
fn open_plain(path: &Path, options: &OpenOptions) -> Result<File, RecordFault> {
    let kind =
        std::fs::symlink_metadata(path).map_err(|error| Trouble::io("read", &error).at(path))?.file_type();
    let other = match kind {
        _ if kind.is_symlink() => Some("a link"),
        _ if kind.is_dir() => Some("a folder"),
        _ if !kind.is_file() => Some("a device or a pipe"),
        _ => None,
    };
    if let Some(other) = other {
        return Err(Trouble::NotAFile(other).at(path));
    }
    options.open(path).map_err(|error| match is_claimed(&error) {
        true => Trouble::Busy.at(path),
        false => Trouble::io("open", &error).at(path),
    })
}

/// Reads an open record to its end, unless it is far too large.
pub(super) fn read_all(file: &mut File) -> Result<Vec<u8>, Trouble> {
    let io = |error: io::Error| Trouble::io("read", &error);
    let bytes = file.metadata().map_err(io)?.len();
    if bytes > LARGEST_RECORD_BYTES {
        return Err(Trouble::TooLarge { bytes });
    }
    let mut all = Vec::with_capacity(usize::try_from(bytes).unwrap_or(0));
    file.take(LARGEST_RECORD_BYTES + 1).read_to_end(&mut all).map_err(io)?;
    match all.len() as u64 {
        bytes if bytes > LARGEST_RECORD_BYTES => Err(Trouble::TooLarge { bytes }),
        _ => Ok(all),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{Recorder, parse};

    #[test]
    fn only_what_is_bytes_on_a_disk_is_opened() {
        let folder = tempfile::tempdir().unwrap();
        let opened = |path: &Path| open_to_read(path).map_err(|fault| fault.trouble);
        assert_eq!(opened(&folder.path().join("none")).unwrap_err(), Trouble::Missing);
        assert_eq!(opened(folder.path()).unwrap_err(), Trouble::NotAFile("a folder"));
        #[cfg(unix)]
        assert_eq!(opened(Path::new("/dev/null")).unwrap_err(), Trouble::NotAFile("a device or a pipe"));
        let file = folder.path().join("file");
        std::fs::write(&file, "it").unwrap();
        assert_eq!(read_all(&mut opened(&file).unwrap()), Ok(b"it".to_vec()));
        #[cfg(unix)]
        std::os::unix::fs::symlink(&file, folder.path().join("link")).unwrap();
        #[cfg(unix)]
        assert_eq!(opened(&folder.path().join("link")).unwrap_err(), Trouble::NotAFile("a link"));
    }

    #[test]
    fn a_file_of_the_largest_size_is_read_whole() {
        let mut file = tempfile::tempfile().unwrap();
        file.set_len(LARGEST_RECORD_BYTES).unwrap();
        assert_eq!(read_all(&mut file).map(|bytes| bytes.len() as u64), Ok(LARGEST_RECORD_BYTES));
        file.set_len(LARGEST_RECORD_BYTES + 1).unwrap();
        assert_eq!(read_all(&mut file), Err(Trouble::TooLarge { bytes: LARGEST_RECORD_BYTES + 1 }));
    }

    /// A device takes what is written and cannot keep it: what was not made safe is not called so.
    #[cfg(target_os = "linux")]
    #[test]
    fn what_could_not_be_made_safe_is_told() {
        let file = File::options().write(true).open("/dev/null").unwrap();
        let mut storage = FileStorage { left: None, file, warning: None };
        assert!(storage.append(b"it").is_ok());
        assert_eq!(storage.sync().unwrap_err().kind(), io::ErrorKind::InvalidInput);
    }

    #[test]
    fn a_disk_without_a_lock_is_told_of() {
        let file = tempfile::tempfile().unwrap();
        let storage = FileStorage { left: None, file, warning: Some(no_lock("not supported")) };
        let head = "format = 1\nprogram = 'p'\nid = 'i'\nprocedure = 'f'\ntitle = 't'\n\
                    started = 2031-04-05T09:01:00Z\nunits = 'us'\n";
        let recorder = Recorder::begin(storage, Path::new("it.toml"), &parse::header(head).unwrap()).unwrap();
        assert_eq!(
            recorder.warning(),
            Some(
                "this disk offers no lock (not supported); \
                 take care that only one tankhand writes the record"
            )
        );
    }
}
