//! `records verify`: every seal of one record, of a page, or of every file of the folder.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::thread;

use super::records::done;
use super::report::verify_page;
use super::resume::find_record;
use super::unseen::none_seen;
use super::{Done, Home, Result};
use crate::record::{FileLook, FileOrder, RecordFault, RecordFiles, RecordFolder, Verification, verify};
use crate::report::account_line;
use crate::words::path_shown;

/// How many files a core takes at a time.
const SHARE: usize = 64;

/// Verifies the seals of one record or of all, each named with the line where something is wrong; of all,
/// the end says what became of every file.
///
/// # Errors
/// When the record named is not there, or the folder cannot be read.
pub fn verify_records(id: Option<&str>, home: &Home, out: &mut dyn Write) -> Result<Done> {
    let Some(id) = id else { return verify_all(home, out) };
    if id.ends_with(".html") {
        return verify_page(Path::new(id), out);
    }
    let path = find_record(id, home)?;
    let findings = verify(&path)?;
    tell(&path, &findings, out)?;
    Ok(if findings.iter().all(Verification::is_sound) { Done::Well } else { Done::Short })
}

/// A file, what a look at it found, and, of a record, what its seals say.
type CheckedFile = (PathBuf, FileLook, Vec<Verification>);

/// Verifies every file of the folder, on all cores.
fn verify_all(home: &Home, out: &mut dyn Write) -> Result<Done> {
    let folder = home.records();
    let cores = thread::available_parallelism().map_or(1, usize::from);
    let mut files = RecordFiles::of(&folder, FileOrder::Oldest);
    let mut folder = RecordFolder::of(&folder, FileOrder::Oldest);
    loop {
        let batch: Vec<PathBuf> = files.by_ref().take(SHARE * cores).collect::<Result<_, _>>()?;
        if batch.is_empty() {
            break;
        }
        for checked in check_all(&batch, cores) {
            account_for(checked, &mut folder, out)?;
        }
    }
    match folder.account.files {
        0 => writeln!(out, "{}", none_seen(home))?,
        _ => writeln!(out, "{}", account_line(&folder.account))?,
    }
    Ok(done(&folder.account))
}

/// Checks files, in their order, each core some of them.
fn check_all(files: &[PathBuf], cores: usize) -> Vec<CheckedFile> {
    let share = files.len().div_ceil(cores).max(1);
    thread::scope(|scope| {
        let work = |share| scope.spawn(move || checked(share));
        let working: Vec<_> = files.chunks(share).map(work).collect();
        working.into_iter().flat_map(|work| work.join().unwrap_or_default()).collect()
    })
}

fn checked(files: &[PathBuf]) -> Vec<CheckedFile> {
    let check = |path: &PathBuf| {
        let look = FileLook::at(path);
        let unreadable = |fault: &RecordFault| vec![Verification::Unreadable(fault.trouble.clone())];
        let seals = || verify(path).unwrap_or_else(|fault| unreadable(&fault));
        let findings = match &look {
            FileLook::Other(_) => Vec::new(),
            FileLook::Fault(fault) if !fault.trouble.is_of_name() && fault.trouble.line().is_none() => {
                unreadable(fault)
            }
            _ => seals(),
        };
        (path.clone(), look, findings)
    };
    files.iter().map(check).collect()
}

/// Tells what was found in a file, and takes it into the account.
fn account_for(
    (path, look, findings): CheckedFile,
    folder: &mut RecordFolder,
    out: &mut dyn Write,
) -> Result<()> {
    tell(&path, &findings, out)?;
    let before = folder.account.faults.len();
    let counts = folder.take(look).is_some();
    let remarks = folder.account.faults.iter().skip(before);
    for fault in remarks.filter(|fault| fault.trouble.is_of_name()) {
        tell(&path, &[Verification::Unreadable(fault.trouble.clone())], out)?;
    }
    if counts && !findings.iter().all(Verification::is_sound) {
        folder.account.retract(None);
    }
    Ok(())
}

/// A line for each thing found.
fn tell(path: &Path, findings: &[Verification], out: &mut dyn Write) -> Result<()> {
    let name = path_shown(path);
    for finding in findings {
        let line = finding.line().map_or_else(String::new, |line| format!(":{line}"));
        let remedy = finding.remedy(path).map(|remedy| format!(". What to do: {remedy}")).unwrap_or_default();
        writeln!(out, "{name}{line}: {finding}{remedy}")?;
    }
    Ok(())
}
