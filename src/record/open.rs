//! Records as files: begin one, go on with one, read one.

use std::fs;
use std::io::ErrorKind;
use std::path::Path;

use super::contents::{Contents, read as read_bytes};
use super::fault::{RecordFault, Trouble};
use super::recorder::{Recorder, Reopened};
use super::storage::{FileStorage, open_to_read, read_all};
use super::{Header, names::is_run_name};
use crate::disk::{Instead, OwnDisk, publish, sweep_parts};

impl Recorder<FileStorage> {
    /// Begins a record in `folder`, in a file named after the run; the folder is made when it is
    /// missing. The whole head is on the disk before the file has its name, and no record is
    /// ever written over.
    ///
    /// # Errors
    /// [`Trouble::Exists`] when there is one of that name; [`Trouble::BadName`]; whatever the
    /// disk refuses.
    pub fn create(folder: &Path, header: &Header) -> Result<Recorder<FileStorage>, RecordFault> {
        let path = folder.join(format!("{}.toml", header.id));
        if !is_run_name(&header.id) {
            return Err(Trouble::BadName(header.id.clone()).at(folder));
        }
        let io = |error: &std::io::Error| Trouble::refused("make", error);
        fs::create_dir_all(folder).map_err(|error| io(&error).at(folder))?;
        let (storage, temporary) = FileStorage::new_file(&path).map_err(|error| io(&error).at(&path))?;
        sweep_parts(&temporary);
        let made = Recorder::begin(storage, &path, header).and_then(|recorder| {
            match publish(&OwnDisk, &temporary, &path, Instead::OfNothing) {
                Err(error) if error.kind() == ErrorKind::AlreadyExists => Err(Trouble::Exists.at(&path)),
                published => published.map(|()| recorder).map_err(|error| io(&error).at(&path)),
            }
        });
        if made.is_err() {
            // Best effort: a leftover has a hidden name and is no record.
            drop(fs::remove_file(&temporary));
        }
        made
    }

    /// Goes on with the record at `path`: locks it, checks every seal, cuts a torn tail and
    /// tells it.
    ///
    /// # Errors
    /// [`Trouble::Busy`] when someone else writes it; otherwise as [`Recorder::resume`].
    pub fn reopen(path: &Path) -> Result<Reopened<FileStorage>, RecordFault> {
        let mut storage = FileStorage::open(path)?;
        let bytes = storage.bytes(path)?;
        Recorder::resume(storage, path, &bytes)
    }

    /// What the person should know: that this disk offers no lock.
    pub fn warning(&self) -> Option<&str> {
        self.storage.warning()
    }
}

/// Reads the record at `path`, checking every seal; takes no lock and changes nothing.
///
/// # Errors
/// As [`Contents::from_bytes`], and whatever the disk refuses.
pub fn read(path: &Path) -> Result<Contents, RecordFault> {
    let bytes = file_bytes(path)?;
    read_bytes(&bytes).map(|(contents, _)| contents).map_err(|trouble| trouble.at(path))
}

/// What is wrong with the end of the record at `path`, when something is.
pub(crate) fn end_fault(path: &Path) -> Option<RecordFault> {
    let tail = match read(path) {
        Ok(contents) => contents.torn?,
        Err(fault) => return Some(fault),
    };
    let trouble = match tail.added {
        true => Trouble::Added { line: tail.line, bytes: tail.length },
        false => Trouble::OnlyTorn { line: tail.line, message: tail.message() },
    };
    Some(trouble.at(path))
}

/// Every byte of the record at `path`.
///
/// # Errors
/// Whatever the disk refuses.
pub(crate) fn file_bytes(path: &Path) -> Result<Vec<u8>, RecordFault> {
    let mut file = open_to_read(path)?;
    read_all(&mut file).map_err(|trouble| trouble.at(path))
}
