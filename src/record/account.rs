//! Every file of a folder of records, looked at once, and what became of each.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::counting::{counting, is_whole};
use super::fault::{RecordFault, Trouble};
use super::folder::{FileOrder, RecordFiles, is_record_name};
use super::open::read;
use super::{Contents, Glance, glance};
use crate::words::on_one_line;

/// How many files of a kind are named; of more their number is told.
const MOST_FILES_NAMED: usize = 200;

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
    pub(crate) fn at(path: &Path) -> FileLook {
        match (glance(path), is_record_name(path)) {
            (Ok(glance), true) => named(glance),
            (Err(fault), true) if fault.trouble != Trouble::NotARecord => FileLook::Fault(fault),
            (Ok(glance), false) if other_file(&glance, &glance.id).is_none() => {
                FileLook::Fault(Trouble::OddName.at(path))
            }
            _ => FileLook::Other(path.to_path_buf()),
        }
    }
}

/// Holds a record's name against the file's, and against what other files hold.
fn named(glance: Glance) -> FileLook {
    let path = glance.path.clone();
    let copied = other_file(&glance, &glance.id).map(|other| (&glance.id, other));
    let mended = || glance.mended.as_ref().and_then(|from| Some((from, sound_original(&glance, from)?)));
    if let Some((id, other)) = copied.or_else(mended) {
        return FileLook::Fault(Trouble::Twice { id: id.clone(), other }.at(&path));
    }
    let of_its_name = path.file_stem().is_some_and(|stem| stem == glance.id.as_str());
    let remark = (!of_its_name).then(|| Trouble::Renamed { id: glance.id.clone() }.at(&path));
    FileLook::Record(Box::new(glance), remark)
}

/// The other file that holds the run and counts. One whose seals do not hold does not count beside one whose do.
fn other_file(glance: &Glance, id: &str) -> Option<PathBuf> {
    let other = counting(glance, id).filter(|other| *other != glance.path)?;
    (is_whole(&other) || !is_whole(&glance.path)).then_some(other)
}

/// The record that a mended one was made of, when it is whole again: its run needs no other.
fn sound_original(mended: &Glance, from: &str) -> Option<PathBuf> {
    let is_sound = |contents: Contents| contents.torn.is_none() || contents.summary.is_some();
    counting(mended, from).filter(|original| read(original).is_ok_and(is_sound))
}

/// The run that a record stands for in place of the file of its name: its own under another name, or the one
/// that it was mended of.
fn stands_in_for(glance: &Glance, renamed: bool) -> Option<&String> {
    glance.mended.as_ref().or(renamed.then_some(&glance.id))
}

/// For each run that files stand in for, the one that counts: one whose seals hold, that was not mended, the
/// first by its name.
fn stand_ins(folder: &Path) -> BTreeMap<String, PathBuf> {
    let mut first: BTreeMap<String, (bool, PathBuf)> = BTreeMap::new();
    let rank = |(mended, path): &(bool, PathBuf)| {
        (!is_whole(path), *mended, path.file_stem().map(ToOwned::to_owned))
    };
    for path in RecordFiles::of(folder, FileOrder::Oldest).map_while(Result::ok) {
        let FileLook::Record(glance, remark) = FileLook::at(&path) else { continue };
        let Some(run) = stands_in_for(&glance, remark.is_some()) else { continue };
        let file = (glance.mended.is_some(), path);
        if first.get(run).is_none_or(|other| rank(&file) < rank(other)) {
            first.insert(run.clone(), file);
        }
    }
    first.into_iter().map(|(run, (_, path))| (run, path)).collect()
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
                if self.named.len() < MOST_FILES_NAMED {
                    self.named.extend(path.file_name().map(|name| on_one_line(&name.to_string_lossy())));
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
        if self.faults.len() < MOST_FILES_NAMED {
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
    folder: PathBuf,
    files: RecordFiles,
    /// The files that count for runs that no file of their own name holds; looked up when there is one.
    stand_ins: Option<BTreeMap<String, PathBuf>>,
    /// What became of the files so far.
    pub account: FolderAccount,
}

impl RecordFolder {
    /// Those of `folder`; no folder, no records.
    pub(crate) fn of(folder: &Path, order: FileOrder) -> RecordFolder {
        RecordFolder {
            folder: folder.to_path_buf(),
            files: RecordFiles::of(folder, order),
            stand_ins: None,
            account: FolderAccount::default(),
        }
    }

    /// The next record that was understood and is none of practice.
    ///
    /// # Errors
    /// The folder cannot be read.
    pub(crate) fn next_record(&mut self) -> Result<Option<Glance>, RecordFault> {
        while let Some(path) = self.files.next() {
            let look = FileLook::at(&path?);
            if let Some(glance) = self.take(look).filter(|glance| !glance.practice) {
                return Ok(Some(glance));
            }
        }
        Ok(None)
    }

    /// Takes in a look at a file; gives the record, when it counts. Of several files that stand in for one
    /// run, one counts, in whatever order they come.
    pub(crate) fn take(&mut self, mut look: FileLook) -> Option<Glance> {
        if let FileLook::Record(glance, remark) = &look
            && let Some(run) = stands_in_for(glance, remark.is_some())
            && let Some(other) = self.stand_in(run).filter(|other| **other != glance.path)
        {
            let twice = Trouble::Twice { id: run.clone(), other: other.clone() };
            look = FileLook::Fault(twice.at(&glance.path));
        }
        self.account.take(look)
    }

    fn stand_in(&mut self, run: &str) -> Option<&PathBuf> {
        self.stand_ins.get_or_insert_with(|| stand_ins(&self.folder)).get(run)
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
        for at in 0..=MOST_FILES_NAMED {
            account.take(FileLook::Other(PathBuf::from(format!("note-{at}.txt"))));
        }
        account.retract(None);
        assert_eq!((account.not_understood, account.twice, account.wrong()), (4, 2, 6));
        assert_eq!((account.files, account.others, account.named.len()), (206, 201, 200));
        account.renamed = 5;
        assert_eq!(account.wrong(), 11);
    }
}
