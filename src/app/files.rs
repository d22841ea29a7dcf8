//! How files are written: whole and safe on the disk under their names, or not at all; and nothing
//! of the owner's is written over.

use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::Path;

use super::{Done, Failure, Result};
use crate::disk::{Instead, OwnDisk, folder_of, put_whole};
use crate::report::{Page, to_text};
use crate::words::path_shown;

/// Stands near the top of every page that is made here.
const MARK: &str = r#"<meta name="generator" content="tankhand "#;
/// How far the mark may stand from the beginning of a file.
const TOP: u64 = 1024;

/// Puts a page out as lines of text, which is all that many commands do.
pub(super) fn put_page(page: &Page, width: usize, out: &mut dyn Write) -> Result<Done> {
    to_text(page, width).iter().try_for_each(|line| writeln!(out, "{line}"))?;
    Ok(Done::Well)
}

/// Writes a page, and says so. A page that was made here before is replaced, for it can always be
/// made again; any other file is left alone.
pub(super) fn write_page(path: &Path, html: &str, out: &mut dyn Write) -> Result<()> {
    if path.symlink_metadata().is_ok() && !is_own(path) {
        let why = "another file stands there, and is not overwritten. Name another with --html.";
        return Err(Failure::about(path, why));
    }
    put(path, html.as_bytes())?;
    writeln!(out, "{} written.", path_shown(path))?;
    Ok(())
}

/// Writes pages into a folder under their names, in place of those that stand there.
pub(crate) fn write_pages(folder: &Path, pages: &[(String, Vec<u8>)], out: &mut dyn Write) -> Result<Done> {
    fs::create_dir_all(folder).map_err(|error| file_failure(folder, &error))?;
    for (name, page) in pages {
        put(&folder.join(name), page)?;
    }
    writeln!(out, "{} pages in {}", pages.len(), path_shown(folder))?;
    Ok(Done::Well)
}

/// Makes the folder that a file is to stand in.
pub(super) fn make_folder_of(path: &Path) -> Result<()> {
    let folder = folder_of(path);
    fs::create_dir_all(folder).map_err(|error| file_failure(folder, &error))
}

/// Writes a file in place of the one that stands there, with the folders it needs.
pub(super) fn replace(path: &Path, text: &str) -> Result<()> {
    make_folder_of(path)?;
    put(path, text.as_bytes())
}

/// Writes a new file; one that stands there is never replaced.
pub(super) fn write_new(path: &Path, fill: impl FnOnce(&mut dyn Write) -> Result<()>) -> Result<()> {
    let mut failed = None;
    // A long export is not made first, to find at its end that there is no place for it.
    let free = match path.symlink_metadata() {
        Ok(_) => Err(io::ErrorKind::AlreadyExists.into()),
        Err(_) => Ok(()),
    };
    let written = free.and_then(|()| {
        put_whole(&OwnDisk, path, Instead::OfNothing, |file| {
            fill(file).map_err(|failure| {
                failed = Some(failure);
                io::ErrorKind::Other.into()
            })
        })
    });
    written.map_err(|error| failed.unwrap_or_else(|| file_failure(path, &error)))
}

/// Puts a file in place of the one that stands there.
fn put(path: &Path, bytes: &[u8]) -> Result<()> {
    put_whole(&OwnDisk, path, Instead::OfAnother, |file| file.write_all(bytes))
        .map_err(|error| file_failure(path, &error))
}

/// A name that cannot be written to is a wrong call; the rest is the machine's.
fn file_failure(path: &Path, error: &io::Error) -> Failure {
    use io::ErrorKind as Kind;
    match error.kind() {
        Kind::AlreadyExists => Failure::about(path, "it is there already, and is not overwritten"),
        Kind::NotFound | Kind::PermissionDenied | Kind::NotADirectory | Kind::IsADirectory => {
            Failure::about(path, error)
        }
        _ => Failure::Machine(format!("{}: {error}", path_shown(path))),
    }
}

/// Whether a file was made here before.
fn is_own(path: &Path) -> bool {
    let mut head = Vec::new();
    // A pipe or a device is not waited for.
    if !path.is_file() {
        return false;
    }
    let read = File::open(path).and_then(|file| file.take(TOP).read_to_end(&mut head));
    read.is_ok() && String::from_utf8_lossy(&head).contains(MARK)
}
