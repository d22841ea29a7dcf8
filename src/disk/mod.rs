//! Files put in place: whole and safe on the disk under their names, or not at all.

#[cfg(test)]
mod failing;
mod leftovers;

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

pub(crate) use leftovers::{sweep, sweep_parts};

use crate::machine;

/// What is asked of a disk to put a file in place; tests have one that fails.
pub(crate) trait Disk {
    /// A file that is being written.
    type Writing: Write;

    /// Makes a new file.
    fn create(&self, path: &Path) -> io::Result<Self::Writing>;
    /// Returns when all that was written to a file would outlive a power cut.
    fn sync(&self, file: &mut Self::Writing) -> io::Result<()>;
    /// Gives a file a second name, unless there is one of that name.
    fn link(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Gives a file another name, in place of a file that had it.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Takes a name away.
    fn remove(&self, path: &Path) -> io::Result<()>;
    /// Returns when the names in a folder would outlive a power cut.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;
}

/// The disk of this machine.
#[derive(Clone, Copy, Debug)]
pub(crate) struct OwnDisk;

impl Disk for OwnDisk {
    type Writing = File;

    fn create(&self, path: &Path) -> io::Result<File> {
        OpenOptions::new().write(true).create_new(true).open(path)
    }
    fn sync(&self, file: &mut File) -> io::Result<()> {
        file.sync_all()
    }
    fn link(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::hard_link(from, to)
    }
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }
    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }
    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        machine::sync_folder(folder)
    }
}

/// What may stand under the name that a file is to have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Instead {
    /// Nothing: a file that stands there is left as it is, and that is an error.
    OfNothing,
    /// A file: the new one takes its place.
    OfAnother,
}

/// Fills a file beside `path`, which gets its name when it is whole and safe.
///
/// # Errors
/// Whatever the disk refuses or `fill` answers. Under the name stands what stood there before; only when the
/// folder could not be made safe at the end, the new file.
pub(crate) fn put_whole<D: Disk>(
    disk: &D,
    path: &Path,
    instead: Instead,
    fill: impl FnOnce(&mut D::Writing) -> io::Result<()>,
) -> io::Result<()> {
    let (mut file, part) = part_beside(path, |part| disk.create(part))?;
    let filled = fill(&mut file).and_then(|()| disk.sync(&mut file));
    drop(file);
    filled
        .and_then(|()| publish(disk, &part, path, instead))
        // Best effort: a leftover has a hidden name.
        .inspect_err(|_| drop(disk.remove(&part)))
}

/// Makes a file beside `path` under a hidden name that no one else uses, in the way that `create` does.
///
/// # Errors
/// What `create` answers; that a hundred such names are taken.
pub(crate) fn part_beside<F>(
    path: &Path,
    create: impl Fn(&Path) -> io::Result<F>,
) -> io::Result<(F, PathBuf)> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let mut tries = 0..100;
    loop {
        let n = tries.next();
        let part = path.with_file_name(format!(".{name}.{}-{}.part", std::process::id(), n.unwrap_or(100)));
        match create(&part) {
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists && n.is_some() => {}
            made => return made.map(|file| (file, part)),
        }
    }
}

/// Gives a whole file its final name, and makes that safe.
///
/// # Errors
/// As [`put_whole`].
pub(crate) fn publish(disk: &impl Disk, part: &Path, path: &Path, instead: Instead) -> io::Result<()> {
    match instead {
        Instead::OfAnother => disk.rename(part, path)?,
        Instead::OfNothing => match disk.link(part, path) {
            // A name left over is hidden, and does no harm.
            Ok(()) => drop(disk.remove(part)),
            // Where the name is taken the claim of it fails too.
            Err(_) => publish_by_claim(disk, part, path)?,
        },
    }
    disk.sync_folder(folder_of(path))
}

/// The same where a file cannot have two names: claims the name with an empty file, which fails
/// when there is one already, and puts the whole file in its place.
fn publish_by_claim(disk: &impl Disk, part: &Path, path: &Path) -> io::Result<()> {
    drop(disk.create(path)?);
    disk.rename(part, path).inspect_err(|_| drop(disk.remove(path)))
}

/// Whether something stands there, be it a link that leads nowhere. What cannot be looked at is not taken for absent:
/// who opens it is told why it cannot be.
pub(crate) fn is_there(path: &Path) -> bool {
    !path.symlink_metadata().is_err_and(|error| error.kind() == io::ErrorKind::NotFound)
}

/// The folder that a file stands in; of a bare name, the one that is worked in.
pub(crate) fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_takes_the_first_free_name_and_gives_up_after_a_hundred() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("it.toml");
        let new = || part_beside(&path, |part| OwnDisk.create(part)).map(|(_, part)| part);
        for n in 0..=100 {
            let name = format!(".it.toml.{}-{n}.part", std::process::id());
            assert_eq!(new().unwrap(), folder.path().join(name));
        }
        assert_eq!(new().unwrap_err().kind(), io::ErrorKind::AlreadyExists);
    }

    #[test]
    fn a_file_is_put_in_place_of_nothing_or_of_another() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("it.toml");
        let put = |instead, text: &str| {
            put_whole(&OwnDisk, &path, instead, |file| file.write_all(text.as_bytes()))
                .map_err(|error| error.kind())
        };
        let stands = || {
            let names = fs::read_dir(folder.path()).unwrap().count();
            (fs::read_to_string(&path).unwrap(), names)
        };
        assert_eq!((put(Instead::OfNothing, "1"), stands()), (Ok(()), ("1".to_string(), 1)));
        let exists = Err(io::ErrorKind::AlreadyExists);
        assert_eq!((put(Instead::OfNothing, "2"), stands()), (exists, ("1".to_string(), 1)));
        assert_eq!((put(Instead::OfAnother, "3"), stands()), (Ok(()), ("3".to_string(), 1)));
    }

    #[test]
    fn a_bare_name_stands_in_the_folder_that_is_worked_in() {
        for (path, folder) in [("it", "."), ("a/it", "a"), ("/it", "/"), ("/", ".")] {
            assert_eq!(folder_of(Path::new(path)), Path::new(folder), "{path}");
        }
    }
}
