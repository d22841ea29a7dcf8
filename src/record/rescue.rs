//! A record saved beside the one that can no longer be written.

use std::fs::{self, File};
use std::io::{self, Read, Seek, Write};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use crate::disk::{Instead, OwnDisk, folder_of, put_whole};
use crate::machine::is_same_file;

/// What became of the file of that name in which so much stood at the moment `left`; `None` when it is as it
/// was left. Its bytes are looked at only where it was written to at another moment.
pub(super) fn displaced(
    file: &mut File,
    path: &Path,
    written: &[u8],
    left: Option<SystemTime>,
) -> Option<&'static str> {
    let (Ok(open), Ok(named)) = (file.metadata(), fs::symlink_metadata(path)) else {
        return Some("was moved or deleted");
    };
    if !named.is_file() || is_same_file(file, path).is_ok_and(|same| !same) {
        return Some("was replaced by another file");
    }
    let touched = open.modified().ok() != left;
    let changed = open.len() != written.len() as u64 || touched && bytes_of(file).ok()? != written;
    changed.then_some("was changed by something else")
}

fn bytes_of(file: &mut File) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    file.rewind()?;
    file.read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Saves a whole record in a new file: under its own name where that is free again, or beside it, or, where its
/// folder takes nothing any more, in the folder around that, in the one that is worked in, or among the machine's
/// temporary files.
///
/// # Errors
/// What the machine said the first time, when no place takes it.
pub(super) fn save(path: &Path, bytes: &[u8]) -> io::Result<PathBuf> {
    let mut refused = None;
    for place in places(path) {
        match save_as(&place, bytes) {
            Ok(()) => return Ok(place),
            Err(error) => drop(refused.get_or_insert(error)),
        }
    }
    Err(refused.unwrap_or_else(|| io::ErrorKind::NotFound.into()))
}

/// What stands between a run's name and the number of a file in which it was saved.
pub(super) const SAVED: &str = "-saved-";

/// Where a record is saved, the best place first.
fn places(path: &Path) -> impl Iterator<Item = PathBuf> {
    let folder = folder_of(path);
    let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    // What was saved of a run before is saved beside it again, under the run's name.
    let run = stem.rsplit_once(SAVED).filter(|(_, n)| n.chars().all(|c| c.is_ascii_digit()));
    let stem = run.map_or(stem.as_str(), |(run, _)| run).to_string();
    let around = folder.parent().filter(|around| !around.as_os_str().is_empty());
    let folders = [Some(folder.to_path_buf()), around.map(Path::to_path_buf), std::env::current_dir().ok()];
    let folders = folders.into_iter().flatten().chain([std::env::temp_dir()]);
    let saved = move |folder: PathBuf| {
        let stem = stem.clone();
        (1..100).map(move |n| folder.join(format!("{stem}{SAVED}{n}.toml")))
    };
    std::iter::once(path.to_path_buf()).chain(folders.flat_map(saved))
}

/// Saves bytes in a new file of that name, whole or not at all.
pub(super) fn save_as(path: &Path, bytes: &[u8]) -> io::Result<()> {
    fs::create_dir_all(folder_of(path))?;
    put_whole(&OwnDisk, path, Instead::OfNothing, |file| file.write_all(bytes))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_displaced_when_it_is_gone_another_or_changed() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("it.toml");
        fs::write(&path, "1234").unwrap();
        let mut file = File::open(&path).unwrap();
        let left = file.metadata().unwrap().modified().ok();
        let mut at = |written: &str, left| displaced(&mut file, &path, written.as_bytes(), left);
        let changed = Some("was changed by something else");
        assert_eq!(at("1234", left), None);
        assert_eq!(at("123", left), changed);
        assert_eq!(at("1235", left), None, "nobody wrote to it");
        let earlier = Some(SystemTime::UNIX_EPOCH);
        assert_eq!((at("1235", earlier), at("1234", earlier)), (changed, None));
        fs::rename(&path, folder.path().join("moved.toml")).unwrap();
        assert_eq!(at("1234", left), Some("was moved or deleted"));
        fs::write(&path, "1234").unwrap();
        assert_eq!(at("1234", left), Some("was replaced by another file"));
    }

    #[test]
    fn a_record_is_saved_under_its_name_beside_it_or_elsewhere() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("gone/it.toml");
        for name in ["it.toml", "it-saved-1.toml", "it-saved-2.toml"] {
            let saved = save(&path, b"all of it").unwrap();
            assert_eq!(saved, folder.path().join("gone").join(name));
            assert_eq!(fs::read(&saved).unwrap(), b"all of it");
        }
        // A folder that cannot be: something else has its name.
        fs::write(folder.path().join("file"), "").unwrap();
        let saved = save(&folder.path().join("file/it.toml"), b"all of it").unwrap();
        assert_eq!(saved, folder.path().join("it-saved-1.toml"));
    }

    #[test]
    fn what_a_restart_may_delete_is_the_last_place() {
        let all: Vec<PathBuf> = places(Path::new("home/records/it.toml")).collect();
        let first = |folder: &Path| folder.join("it-saved-1.toml");
        let working = std::env::current_dir().unwrap();
        let expected = [
            first(Path::new("home/records")),
            first(Path::new("home")),
            first(&working),
            first(&std::env::temp_dir()),
        ];
        assert_eq!(all[0], Path::new("home/records/it.toml"));
        assert_eq!([1, 100, 199, 298].map(|at| all[at].clone()), expected);
        assert_eq!(all.len(), 397);
    }

    #[test]
    fn what_was_saved_before_is_saved_beside_it_under_the_runs_name() {
        let names = |file: &str| {
            let names =
                places(Path::new(file)).map(|it| it.file_name().unwrap().to_str().unwrap().to_string());
            names.skip(1).take(2).collect::<Vec<_>>()
        };
        assert_eq!(names("records/it-saved-1.toml"), ["it-saved-1.toml", "it-saved-2.toml"]);
        assert_eq!(names("records/it-saved-1.toml"), names("records/it.toml"));
        assert_eq!(names("records/well-saved-me.toml")[0], "well-saved-me-saved-1.toml");
    }
}
