//! How files are written: whole and safe on the disk under their names, or not at all; and nothing
//! of the owner's is written over.

use std::ffi::OsString;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use super::failure::{Done, Failure};
use crate::report::{Page, to_text};

/// Stands near the top of every page that is made here.
const MARK: &str = r#"<meta name="generator" content="tankhand "#;
/// How far the mark may stand from the beginning of a file.
const TOP: u64 = 1024;

/// Puts a page out as lines of text.
pub(super) fn put_page(page: &Page, width: usize, out: &mut dyn Write) -> io::Result<()> {
    to_text(page, width).iter().try_for_each(|line| writeln!(out, "{line}"))
}

/// Writes a page, and says so. A page that was made here before is replaced, for it can always be
/// made again; any other file is left alone.
pub(super) fn write_page(path: &Path, html: &str, out: &mut dyn Write) -> Result<(), Failure> {
    if path.symlink_metadata().is_ok() && !is_own(path) {
        return Err(Failure::Call(format!(
            "{}: another file stands there, and is not overwritten. Name another with --html.",
            path.display()
        )));
    }
    by_way_of_part(path, |file| Ok(file.write_all(html.as_bytes())?), |part| fs::rename(part, path))?;
    writeln!(out, "{} written.", path.display())?;
    Ok(())
}

/// Writes pages into a folder under their names, in place of those that stand there.
pub(crate) fn write_pages(
    folder: &Path,
    pages: &[(String, Vec<u8>)],
    out: &mut dyn Write,
) -> Result<Done, Failure> {
    fs::create_dir_all(folder).map_err(|error| file_failure(folder, &error))?;
    for (name, page) in pages {
        let path = folder.join(name);
        by_way_of_part(&path, |file| Ok(file.write_all(page)?), |part| fs::rename(part, &path))?;
    }
    writeln!(out, "{} pages in {}", pages.len(), folder.display())?;
    Ok(Done::Well)
}

/// Makes the folder that a file is to stand in.
pub(super) fn make_folder_of(path: &Path) -> Result<(), Failure> {
    let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) else { return Ok(()) };
    fs::create_dir_all(folder).map_err(|error| file_failure(folder, &error))
}

/// Writes a file in place of the one that stands there, with the folders it needs.
pub(super) fn replace(path: &Path, text: &str) -> Result<(), Failure> {
    make_folder_of(path)?;
    by_way_of_part(path, |file| Ok(file.write_all(text.as_bytes())?), |part| fs::rename(part, path))
}

/// Writes a new file; one that stands there is never replaced.
pub(super) fn write_new(
    path: &Path,
    fill: impl FnOnce(&mut dyn Write) -> Result<(), Failure>,
) -> Result<(), Failure> {
    if path.symlink_metadata().is_ok() {
        return Err(file_failure(path, &io::ErrorKind::AlreadyExists.into()));
    }
    let name = |part: &Path| {
        fs::hard_link(part, path).or_else(|error| match error.kind() {
            io::ErrorKind::AlreadyExists => Err(error),
            // Where a file cannot have two names.
            _ => fs::rename(part, path),
        })
    };
    by_way_of_part(path, |file| fill(file), name)
}

/// Fills a file beside `path`, which gets its name when it is whole.
fn by_way_of_part(
    path: &Path,
    fill: impl FnOnce(&mut File) -> Result<(), Failure>,
    name: impl FnOnce(&Path) -> io::Result<()>,
) -> Result<(), Failure> {
    let part = part_of(path);
    let mut file = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(&part)
        .map_err(|error| file_failure(path, &error))?;
    let done = fill(&mut file).and_then(|()| {
        file.sync_all().and_then(|()| name(&part)).map_err(|error| file_failure(path, &error))
    });
    // It has its name now, or it is half a file.
    let _ = fs::remove_file(&part);
    done
}

fn part_of(path: &Path) -> PathBuf {
    let mut name: OsString = path.file_name().unwrap_or_default().to_os_string();
    name.push(format!(".{}.part", std::process::id()));
    path.with_file_name(name)
}

fn file_failure(path: &Path, error: &io::Error) -> Failure {
    Failure::Call(match error.kind() {
        io::ErrorKind::AlreadyExists => {
            format!("{}: it is there already, and is not overwritten", path.display())
        }
        _ => format!("{}: {error}", path.display()),
    })
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
