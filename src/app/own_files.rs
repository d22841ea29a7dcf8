//! The owner's own procedures and parts: which files there are, and which are not taken, with the reason.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use crate::disk::is_there;
use crate::words::path_shown;

/// The files in `procedures` beside the system file, looked up once.
#[derive(Clone, Debug)]
pub(super) struct OwnFiles {
    folder: PathBuf,
    /// The names of the files in it and in its folder of parts.
    names: Vec<String>,
    /// The files there that are not taken.
    refused: Vec<(PathBuf, &'static str)>,
    /// Why a folder could not be read; then nobody knows what stands in it.
    unreadable: Option<String>,
}

impl OwnFiles {
    /// Looks them up; no folder, no files.
    pub(super) fn find(folder: PathBuf) -> OwnFiles {
        let parts = folder.join("parts");
        let mut own = OwnFiles { folder, names: Vec::new(), refused: Vec::new(), unreadable: None };
        own.look_into(&own.folder.clone(), "");
        own.look_into(&parts, "parts/");
        own.names.sort();
        own.refused.sort();
        own
    }

    fn look_into(&mut self, folder: &Path, lead: &str) {
        let files = match fs::read_dir(folder) {
            Err(error) if error.kind() == ErrorKind::NotFound => return,
            Err(error) => return self.refuse(folder, &error),
            Ok(files) => files,
        };
        for file in files {
            let path = match file {
                Ok(file) => file.path(),
                Err(error) => return self.refuse(folder, &error),
            };
            match name_of(&path) {
                Ok(name) => self.names.push(format!("{lead}{name}")),
                Err(_) if is_passed_over(&path) => {}
                Err(why) => self.refused.push((path, why)),
            }
        }
    }

    fn refuse(&mut self, folder: &Path, error: &std::io::Error) {
        let why = format!(
            "{}: the folder of your own procedures cannot be read ({error}), so what stands in it is not known. \
             Set right who may read it, or name another folder with --home",
            path_shown(folder)
        );
        self.unreadable.get_or_insert(why);
    }

    /// The names of procedures and of parts (`parts/NAME`), sorted.
    pub(super) fn names(&self) -> &[String] {
        &self.names
    }

    /// The path of the file of that name, when there is one.
    pub(super) fn path(&self, name: &str) -> Option<PathBuf> {
        let path = || place_in(&self.folder, name);
        let listed = !name.strip_prefix("parts/").unwrap_or(name).contains('/');
        if !name.chars().all(|c| is_plain(c) || c == '/') || name.starts_with('/') {
            return None;
        }
        if listed {
            return self.names.iter().any(|own| own == name).then(path);
        }
        Some(path()).filter(|path| is_there(path))
    }

    /// Why it is not known which files there are.
    pub(super) fn unreadable(&self) -> Option<&str> {
        self.unreadable.as_deref()
    }

    /// A line for each file that is not taken.
    pub(super) fn remarks(&self) -> Vec<String> {
        self.refused.iter().map(refusal_line).collect()
    }

    /// The line for the file whose name that is, where it is not taken.
    pub(super) fn refusal(&self, name: &str) -> Option<String> {
        let place = place_in(&self.folder, name).with_extension("");
        let is_meant = |path: &Path| path.with_extension("") == place;
        self.refused.iter().find(|(path, _)| is_meant(path)).map(refusal_line)
    }
}

/// What is said of a file that is not taken.
fn refusal_line((path, why): &(PathBuf, &'static str)) -> String {
    format!("Not taken: {}. {why}", path_shown(path))
}

/// Where the file of that name belongs in a folder of the owner's own files.
pub(super) fn place_in(folder: &Path, name: &str) -> PathBuf {
    folder.join(format!("{name}.toml").split('/').collect::<PathBuf>())
}

/// The name that a file gives a procedure, or why it can give none. A link is taken for what it leads to: where
/// that is not there, the procedure cannot be read.
fn name_of(path: &Path) -> Result<String, &'static str> {
    let name = path.file_name().and_then(|name| name.to_str()?.strip_suffix(".toml"));
    let Some(name) = name.filter(|name| !name.is_empty() && name.chars().all(is_plain)) else {
        return Err(
            "The file of a procedure or part has a name of letters, digits, - and _, and ends in .toml.",
        );
    };
    match fs::symlink_metadata(path).is_ok_and(|it| it.is_file() || it.is_symlink()) {
        true => Ok(name.to_string()),
        false => Err("A procedure or part is a file; this is none."),
    }
}

fn is_plain(c: char) -> bool {
    c.is_ascii_alphanumeric() || matches!(c, '-' | '_')
}

/// Whether nobody means a file to be a procedure: a folder, a hidden file, one without `toml` in its name.
fn is_passed_over(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
    name.starts_with('.') || !name.contains("toml")
}
