//! The records of a folder one after the other, in memory that does not grow with their number.

use std::collections::{BinaryHeap, VecDeque};
use std::ffi::{OsStr, OsString};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::fault::{RecordFault, Trouble};

/// How many names are held at a time; for more the folder is read again.
const PAGE: usize = 2_048;

/// Whether a record may have that file name: it ends in `.toml` and is not hidden.
pub(super) fn is_record_name(name: &OsStr) -> bool {
    let shown = !name.as_encoded_bytes().starts_with(b".");
    shown && Path::new(name).extension().is_some_and(|ending| ending == "toml")
}

/// Makes the names in a folder safe; file systems that know no such thing are forgiven.
pub(super) fn sync_folder(folder: &Path) -> io::Result<()> {
    match fs::File::open(folder)?.sync_all() {
        Err(error) if error.kind() == io::ErrorKind::InvalidInput => Ok(()),
        other => other,
    }
}

/// The files that may be records, in the order of their names, which is that of the days they
/// were begun.
#[derive(Debug)]
pub struct RecordFiles {
    folder: PathBuf,
    page: VecDeque<OsString>,
    last: Option<OsString>,
    ended: bool,
}

impl RecordFiles {
    /// Those of `folder`; no folder, no records.
    pub fn of(folder: &Path) -> RecordFiles {
        RecordFiles { folder: folder.to_path_buf(), page: VecDeque::new(), last: None, ended: false }
    }

    /// The next names after the last one given.
    fn read_page(&self) -> io::Result<VecDeque<OsString>> {
        let mut least = BinaryHeap::new();
        let files = match fs::read_dir(&self.folder) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(VecDeque::new()),
            other => other?,
        };
        for file in files {
            let name = file?.file_name();
            if is_record_name(&name) && self.last.as_ref().is_none_or(|last| name > *last) {
                least.push(name);
            }
            if least.len() > PAGE {
                least.pop();
            }
        }
        Ok(least.into_sorted_vec().into())
    }
}

impl Iterator for RecordFiles {
    type Item = Result<PathBuf, RecordFault>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.page.is_empty() && !self.ended {
            match self.read_page() {
                Ok(page) => {
                    self.ended = page.len() < PAGE;
                    self.page = page;
                }
                Err(error) => {
                    self.ended = true;
                    return Some(Err(Trouble::io("read", &error).at(&self.folder)));
                }
            }
        }
        let name = self.page.pop_front()?;
        let path = self.folder.join(&name);
        self.last = Some(name);
        Some(Ok(path))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_comes_once_and_in_order() {
        let folder = tempfile::tempdir().unwrap();
        for other in [".hidden.toml", "notes.txt", "toml"] {
            fs::write(folder.path().join(other), "").unwrap();
        }
        let name = |n: usize| folder.path().join(format!("{n:06}.toml"));
        let mut made = 0;
        for count in [0, 1, PAGE - 1, PAGE, PAGE + 1, 2 * PAGE + 3] {
            (made..count).rev().for_each(|n| fs::write(name(n), "").unwrap());
            made = count;
            let found: Vec<PathBuf> = RecordFiles::of(folder.path()).map(Result::unwrap).collect();
            assert!(found == (0..count).map(name).collect::<Vec<_>>(), "{count}");
        }
    }

    #[test]
    fn few_names_come_in_order_and_then_no_more() {
        let folder = tempfile::tempdir().unwrap();
        for name in ["b.toml", "a.toml", ".c.toml", "d.txt", "e"] {
            fs::write(folder.path().join(name), "").unwrap();
        }
        let mut files = RecordFiles::of(folder.path());
        let mut next = || files.next().map(Result::unwrap);
        assert_eq!(next(), Some(folder.path().join("a.toml")));
        assert_eq!(next(), Some(folder.path().join("b.toml")));
        assert_eq!((next(), next()), (None, None));
    }

    #[test]
    fn a_folder_that_cannot_be_read_is_told_once() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("file");
        fs::write(&file, "").unwrap();
        let mut files = RecordFiles::of(&file);
        let fault = files.next().unwrap().unwrap_err();
        assert!(fault.path == file && matches!(fault.trouble, Trouble::Io { doing: "read", .. }), "{fault}");
        assert!(files.next().is_none());
    }

    #[test]
    fn no_folder_holds_no_records() {
        assert_eq!(RecordFiles::of(Path::new("no-such-folder")).count(), 0);
    }
}
