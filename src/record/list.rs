//! All records of a folder at once, for who needs few and all of them.

use std::path::Path;

use super::account::{FolderAccount, RecordFolder};
use super::fault::RecordFault;
use super::folder::FileOrder;
use super::glance::Glance;

/// The records of a folder.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RecordList {
    /// Those that were understood and are none of practice, the latest run first.
    pub records: Vec<Glance>,
    /// What became of every file.
    pub account: FolderAccount,
}

/// Every record in `folder`, and what became of its files. No folder, no records.
///
/// # Errors
/// The folder cannot be read.
pub fn list(folder: &Path) -> Result<RecordList, RecordFault> {
    let mut records = RecordFolder::of(folder, FileOrder::Oldest);
    let mut found = Vec::new();
    while let Some(glance) = records.next_record()? {
        found.push(glance);
    }
    found.sort_by(|a, b| (b.started.unix_seconds(), &b.path).cmp(&(a.started.unix_seconds(), &a.path)));
    Ok(RecordList { records: found, account: records.account })
}
