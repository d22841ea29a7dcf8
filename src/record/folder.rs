//! The records of a folder one after the other, in memory that does not grow with their number.

use std::cmp::Ordering;
use std::collections::VecDeque;
use std::ffi::{OsStr, OsString};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::fault::{RecordFault, Trouble};
use crate::words::path_shown;

/// How many names are held at a time, about a megabyte of them; for more the folder is read again.
const PAGE: usize = if cfg!(test) { 64 } else { 16 * 1024 };

/// Whether a file has the ending of records.
pub(super) fn is_record_name(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "toml")
}

fn is_hidden(name: &OsStr) -> bool {
    name.as_encoded_bytes().starts_with(b".")
}

/// In which order files come, by their names, which begin with the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum FileOrder {
    /// The oldest first.
    Oldest,
    /// The newest first.
    Newest,
}

impl FileOrder {
    fn compare(self, a: &OsString, b: &OsString) -> Ordering {
        match self {
            FileOrder::Oldest => a.cmp(b),
            FileOrder::Newest => b.cmp(a),
        }
    }
}

/// Everything in a folder that is not hidden, in the order of the names.
#[derive(Debug)]
pub(crate) struct RecordFiles {
    folder: PathBuf,
    order: FileOrder,
    page: VecDeque<OsString>,
    last: Option<OsString>,
    ended: bool,
}

impl RecordFiles {
    /// What stands in `folder`; no folder, nothing.
    pub(crate) fn of(folder: &Path, order: FileOrder) -> RecordFiles {
        RecordFiles { folder: folder.to_path_buf(), order, page: VecDeque::new(), last: None, ended: false }
    }

    /// The next names after the last one given.
    fn read_page(&self) -> io::Result<VecDeque<OsString>> {
        let mut page: Vec<OsString> = Vec::new();
        let files = match fs::read_dir(&self.folder) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                return leads_nowhere(&self.folder).map_or_else(|| Ok(VecDeque::new()), Err);
            }
            other => other?,
        };
        let compare = |a: &OsString, b: &OsString| self.order.compare(a, b);
        for file in files {
            let name = file?.file_name();
            let follows = |last| self.order.compare(last, &name) == Ordering::Less;
            if !is_hidden(&name) && self.last.as_ref().is_none_or(follows) {
                page.push(name);
            }
            if page.len() == 2 * PAGE {
                page.select_nth_unstable_by(PAGE, compare);
                page.truncate(PAGE);
            }
        }
        page.sort_unstable_by(compare);
        page.truncate(PAGE);
        Ok(page.into())
    }
}

/// That a link on the way to a folder leads to what is not there: then nobody knows what the folder holds.
fn leads_nowhere(folder: &Path) -> Option<io::Error> {
    let link = folder.ancestors().find(|path| path.is_symlink() && !path.exists())?;
    let to = fs::read_link(link).ok()?;
    let why = format!("the link {} leads to {}, which is not there", path_shown(link), path_shown(to));
    Some(io::Error::new(io::ErrorKind::NotFound, why))
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
                    return Some(Err(Trouble::refused("read", &error).at(&self.folder)));
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
        fs::write(folder.path().join(".hidden.toml"), "").unwrap();
        let name = |n: usize| folder.path().join(format!("{n:06}.toml"));
        let mut made = 0;
        for count in [0, 1, PAGE - 1, PAGE, PAGE + 1, 2 * PAGE + 3] {
            (made..count).rev().for_each(|n| fs::write(name(n), "").unwrap());
            made = count;
            let found = |order| RecordFiles::of(folder.path(), order).map(Result::unwrap).collect::<Vec<_>>();
            assert!(found(FileOrder::Oldest) == (0..count).map(name).collect::<Vec<_>>(), "{count}");
            assert!(found(FileOrder::Newest) == (0..count).rev().map(name).collect::<Vec<_>>(), "{count}");
        }
    }

    #[test]
    fn few_names_come_in_order_and_then_no_more() {
        let folder = tempfile::tempdir().unwrap();
        for name in ["b.toml", "a.toml", ".c.toml"] {
            fs::write(folder.path().join(name), "").unwrap();
        }
        let mut files = RecordFiles::of(folder.path(), FileOrder::Oldest);
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
        let mut files = RecordFiles::of(&file, FileOrder::Oldest);
        let fault = files.next().unwrap().unwrap_err();
        assert!(fault.path == file && matches!(fault.trouble, Trouble::Io { doing: "read", .. }), "{fault}");
        assert!(files.next().is_none());
    }

    #[test]
    fn no_folder_holds_no_records() {
        assert_eq!(RecordFiles::of(Path::new("no-such-folder"), FileOrder::Oldest).count(), 0);
    }
}
