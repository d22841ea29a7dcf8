//! Every file of a folder of records, looked at once, and what became of each.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use super::fault::{RecordFault, Trouble};
use super::folder::{FileOrder, RecordFiles, is_record_name};
use super::{Glance, glance};

/// How many files of a kind are named; of more their number is told.
const MOST_NAMED: usize = 200;

/// What became of the files of a folder.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FolderAccount {
    /// How many files there are, hidden ones apart.
    pub files: usize,
    /// How many are records and were understood.
    pub understood: usize,
    /// Those that are not understood, or have something wrong with their names, at most 200 of them.
    pub faults: Vec<RecordFault>,
    /// How many records are not understood.
    pub not_understood: usize,
    /// How many hold a record that another file holds too.
    pub twice: usize,
    /// How many are understood, but do not have the record's name.
    pub renamed: usize,
    /// How many are no records.
    pub others: usize,
    /// The names of those, at most 200 of them.
    pub named: Vec<String>,
}

/// What a look at one file of a folder found.
#[derive(Clone, Debug)]
pub(crate) enum FileLook {
    /// A record; with a fault when it has another name than the file.
    Record(Box<Glance>, Option<RecordFault>),
    /// A record that is not understood, or does not count.
    Fault(RecordFault),
    /// Something that is no record and never was one.
    Other(PathBuf),
}

impl FileLook {
    /// Looks at a file.
    pub fn at(path: &Path) -> FileLook {
        match (glance(path), is_record_name(path)) {
            (Ok(glance), true) => named(glance),
            (Err(fault), true) if fault.trouble != Trouble::NotARecord => FileLook::Fault(fault),
            (Ok(glance), false) if !is_twin(path, &glance.id) => FileLook::Fault(Trouble::OddName.at(path)),
            _ => FileLook::Other(path.to_path_buf()),
        }
    }
}

/// Holds a record's name against the file's.
fn named(glance: Glance) -> FileLook {
    let path = glance.path.clone();
    if path.file_stem().is_some_and(|stem| stem == glance.id.as_str()) {
        return FileLook::Record(Box::new(glance), None);
    }
    let (id, other) = (glance.id.clone(), path.with_file_name(format!("{}.toml", glance.id)));
    if is_twin(&path, &id) {
        return FileLook::Fault(Trouble::Twice { id, other }.at(&path));
    }
    FileLook::Record(Box::new(glance), Some(Trouble::Renamed { id }.at(&path)))
}

/// Whether the record of that name stands beside this file, in the file of its name.
fn is_twin(path: &Path, id: &str) -> bool {
    fs::symlink_metadata(path.with_file_name(format!("{id}.toml"))).is_ok_and(|other| other.is_file())
}

impl FolderAccount {
    /// Takes in what a look at one file found; gives the record, when it counts.
    pub(crate) fn take(&mut self, look: FileLook) -> Option<Glance> {
        self.files += 1;
        match look {
            FileLook::Record(glance, remark) => {
                self.understood += 1;
                self.renamed += usize::from(remark.is_some());
                self.name(remark);
                return Some(*glance);
            }
            FileLook::Fault(fault) => {
                let twice = matches!(fault.trouble, Trouble::Twice { .. });
                *if twice { &mut self.twice } else { &mut self.not_understood } += 1;
                self.name(Some(fault));
            }
            FileLook::Other(path) => {
                self.others += 1;
                if self.named.len() < MOST_NAMED {
                    self.named.extend(path.file_name().map(|name| name.to_string_lossy().into_owned()));
                }
            }
        }
        None
    }

    /// Notes that a record that was understood at a glance is not.
    pub(crate) fn retract(&mut self, fault: Option<RecordFault>) {
        self.understood = self.understood.saturating_sub(1);
        self.not_understood += 1;
        self.name(fault);
    }

    fn name(&mut self, fault: Option<RecordFault>) {
        if self.faults.len() < MOST_NAMED {
            self.faults.extend(fault);
        }
    }

    /// How many files have something wrong with them.
    pub fn wrong(&self) -> usize {
        self.not_understood + self.twice + self.renamed
    }
}

/// The records of a folder one after the other, each looked at once.
#[derive(Debug)]
pub(crate) struct RecordFolder {
    files: RecordFiles,
    /// The names of records whose files have other names.
    strays: BTreeSet<String>,
    /// What became of the files so far.
    pub account: FolderAccount,
}

impl RecordFolder {
    /// Those of `folder`; no folder, no records.
    pub fn of(folder: &Path, order: FileOrder) -> RecordFolder {
        RecordFolder {
            files: RecordFiles::of(folder, order),
            strays: BTreeSet::new(),
            account: FolderAccount::default(),
        }
    }

    /// The next record that was understood and is none of practice.
    ///
    /// # Errors
    /// The folder cannot be read.
    pub fn next_record(&mut self) -> Result<Option<Glance>, RecordFault> {
        while let Some(path) = self.files.next() {
            let look = FileLook::at(&path?);
            if let Some(glance) = self.take(look).filter(|glance| !glance.practice) {
                return Ok(Some(glance));
            }
        }
        Ok(None)
    }

    /// Takes in a look at a file; gives the record, when it counts. Of two files that hold the same record
    /// under names that are not its own the first counts.
    pub fn take(&mut self, mut look: FileLook) -> Option<Glance> {
        if let FileLook::Record(glance, Some(_)) = &look
            && !self.strays.insert(glance.id.clone())
        {
            let (id, other) = (glance.id.clone(), PathBuf::from("another renamed file"));
            look = FileLook::Fault(Trouble::Twice { id, other }.at(&glance.path));
        }
        self.account.take(look)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_are_counted_by_what_is_wrong_with_them() {
        let fault = |trouble: Trouble| FileLook::Fault(trouble.at(Path::new("it.toml")));
        let twice = || fault(Trouble::Twice { id: "it".to_string(), other: PathBuf::from("other.toml") });
        let mut account = FolderAccount::default();
        for look in [fault(Trouble::Empty), twice(), fault(Trouble::HeadTorn), twice(), fault(Trouble::Empty)]
        {
            assert!(account.take(look).is_none());
        }
        for at in 0..=MOST_NAMED {
            account.take(FileLook::Other(PathBuf::from(format!("note-{at}.txt"))));
        }
        account.retract(None);
        assert_eq!((account.not_understood, account.twice, account.wrong()), (4, 2, 6));
        assert_eq!((account.files, account.others, account.named.len()), (206, 201, 200));
        account.renamed = 5;
        assert_eq!(account.wrong(), 11);
    }
}
