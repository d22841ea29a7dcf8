//! `check`: prove procedure and system files sound.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::failure::{Done, Failure};
use super::home::Home;
use super::library::{Library, read_source};
use crate::report::faults_json_lines;
use crate::source::{Fault, SourceText};
use crate::system;
use crate::words::{counted, list};

/// How faults are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FaultForm {
    /// Pages for a person.
    Text,
    /// JSON Lines for a program, on standard output.
    Json,
}

/// Checks every file and says of each sound one what it is.
///
/// # Errors
/// Every fault of every file at once.
pub fn check(files: &[PathBuf], form: FaultForm, home: &Home, out: &mut dyn Write) -> Result<Done, Failure> {
    let (mut faults, mut unread) = (Vec::new(), Vec::new());
    for file in files {
        let source = match read_source(file) {
            Ok(source) => source,
            Err(failure) => {
                unread.push(failure.to_string());
                continue;
            }
        };
        match check_one(file, &source, home) {
            Ok(words) if form == FaultForm::Text => writeln!(out, "{}: {words}", file.display())?,
            Ok(_) => {}
            Err(found) => faults.extend(found),
        }
    }
    for why in &unread {
        writeln!(out, "{why}")?;
    }
    match form {
        _ if faults.is_empty() && !unread.is_empty() => Err(Failure::Told),
        _ if faults.is_empty() => Ok(Done::Well),
        FaultForm::Text => Err(Failure::Faults(faults)),
        FaultForm::Json => {
            write!(out, "{}", faults_json_lines(&faults))?;
            Err(Failure::Told)
        }
    }
}

fn check_one(file: &Path, source: &SourceText, home: &Home) -> Result<String, Vec<Fault>> {
    if looks_like_system(source.text()) {
        let system = system::load(source)?;
        return Ok(format!("a sound system file with {}", counted(system.tanks.len(), "tank")));
    }
    // A procedure's own parts stand beside it, or beside the owner's system file.
    let beside = file.parent().is_some_and(|folder| folder.ends_with("procedures"));
    let library = match file.parent().and_then(Path::parent) {
        Some(folder) if beside => Library::beside(&folder.join("system.toml")),
        _ => Library::beside(&home.system_file()),
    };
    let procedure = match library.load_source(source) {
        Ok(procedure) => procedure,
        Err(faults) => return check_part(file, source, &library).unwrap_or(Err(faults)),
    };
    Ok(format!("a sound procedure with {}", counted(count(&procedure.steps), "step")))
}

/// A part is sound when every procedure that uses it is; `None` when no part has the file's name.
fn check_part(file: &Path, source: &SourceText, library: &Library) -> Option<Result<String, Vec<Fault>>> {
    let name = format!("parts/{}", file.file_stem()?.to_str()?);
    let library = library.with_part(&name, source)?;
    let (mut users, mut faults) = (Vec::new(), Vec::new());
    for procedure in library.procedures() {
        match library.load(&procedure) {
            Ok(loaded) if loaded.texts.iter().any(|text| text == source) => users.push(procedure),
            Ok(_) => {}
            Err(Failure::Faults(found)) => faults.extend(found),
            Err(_) => {}
        }
    }
    Fault::sort(&mut faults);
    if !faults.is_empty() {
        return Some(Err(faults));
    }
    Some(Ok(format!("a sound part, as used by {}", list(&users, "and"))))
}

fn count(steps: &[crate::procedure::Step]) -> usize {
    steps.iter().map(|step| 1 + count(step.body())).sum()
}

/// A system file has none of a procedure's tables.
fn looks_like_system(text: &str) -> bool {
    let begins = |words: &[&str]| {
        text.lines().any(|line| words.iter().any(|word| line.trim_start().starts_with(word)))
    };
    !begins(&["[[step", "purpose"])
        && begins(&["[switch]", "[pump]", "[relief]", "[house]", "[[tank]]", "[[gauge]]", "elevation"])
}
