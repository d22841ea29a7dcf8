//! `check`: prove procedure and system files sound.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};

use super::beside::{Checked, Sound, beside_the_shipped, is_as_shipped};
use super::files::put_page;
use super::library::read_source;
use super::{Done, Failure, Home, Library, Result};
use crate::procedure::{Texts, compare, unasked_in_own_steps};
use crate::report::{faults_json_lines, sound_json_line};
use crate::source::{Fault, SourceText};
use crate::system;
use crate::words::{counted, list, path_shown};

/// Whom an output is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum OutputForm {
    /// Pages for a person.
    #[default]
    Text,
    /// JSON Lines for a program.
    Json,
}

/// Checks every file and says of each sound one what it is.
///
/// # Errors
/// Every fault of every file at once.
pub fn check(
    files: &[PathBuf],
    (form, width): (OutputForm, usize),
    home: &Home,
    out: &mut dyn Write,
) -> Result<Done> {
    let (mut faults, mut unread) = (Vec::new(), Vec::new());
    // What stands in one folder has the same parts, which are read and proven once.
    let mut libraries: BTreeMap<PathBuf, Library> = BTreeMap::new();
    for file in files {
        let source = match read_source(file) {
            Ok(source) => source,
            Err(failure) => {
                unread.push(failure.to_string());
                continue;
            }
        };
        let beside = beside(file, home);
        let library = libraries.entry(beside).or_insert_with_key(|beside| Library::beside(beside));
        match check_one(file, &source, library) {
            Ok(sound) => match form {
                OutputForm::Text => {
                    writeln!(out, "{}: {}", path_shown(file), sound.says)?;
                    if !is_as_shipped(&source) && sound.kind != Checked::System {
                        writeln!(out)?;
                        put_page(&beside_the_shipped((file, &source), &sound, home), width, out)?;
                    }
                }
                OutputForm::Json => {
                    let name = path_shown(file);
                    write!(out, "{}", sound_json_line(&name, &sound.says, compare(&source).as_ref()))?;
                }
            },
            Err(found) => faults.extend(found),
        }
    }
    once(&mut faults);
    for why in &unread {
        writeln!(out, "{why}")?;
    }
    match form {
        _ if faults.is_empty() && !unread.is_empty() => Err(Failure::Reported),
        _ if faults.is_empty() => Ok(Done::Well),
        OutputForm::Text => Err(Failure::Faults(faults)),
        OutputForm::Json => {
            write!(out, "{}", faults_json_lines(&faults))?;
            Err(Failure::Reported)
        }
    }
}

/// A fault of a part that several files use is told once.
fn once(faults: &mut Vec<Fault>) {
    let mut shown: Vec<Fault> = Vec::new();
    for fault in faults.drain(..) {
        if !shown.contains(&fault) {
            shown.push(fault);
        }
    }
    *faults = shown;
}

fn check_one(file: &Path, source: &SourceText, library: &Library) -> Result<Sound, Vec<Fault>> {
    let sound = |kind, says| Sound { kind, says, look: Vec::new() };
    if looks_like_system(source.text()) {
        let system = system::load(source)?;
        let says = format!("a sound system file with {}", counted(system.tanks.len(), "tank"));
        return Ok(sound(Checked::System, says));
    }
    if is_part(file, library) {
        return check_part(file, source, library).map(|says| sound(Checked::Part, says));
    }
    match library.load_source(source) {
        Ok(procedure) => {
            let says = format!("a sound procedure with {}", counted(procedure.count(), "step"));
            let look = unasked_in_own_steps(&procedure);
            Ok(Sound { look, ..sound(Checked::Procedure, says) })
        }
        Err(faults) if faults.iter().any(|fault| fault.code == "part-alone") => {
            check_part(file, source, library).map(|says| sound(Checked::Part, says))
        }
        Err(faults) => Err(faults),
    }
}

/// The system file beside which a file's parts stand: the one beside its own folder, or the owner's.
fn beside(file: &Path, home: &Home) -> PathBuf {
    let folder = file.parent().map(|folder| match folder.ends_with("parts") {
        true => folder.parent().unwrap_or(folder),
        false => folder,
    });
    match folder.and_then(Path::parent) {
        Some(beside) if folder.is_some_and(|folder| folder.ends_with("procedures")) => {
            beside.join("system.toml")
        }
        _ => home.system_file(),
    }
}

/// Whether a file stands among parts, or is named after one.
fn is_part(file: &Path, library: &Library) -> bool {
    let stem = file.file_stem().and_then(|stem| stem.to_str()).unwrap_or_default();
    let named = library.text(stem).is_none() && library.text(&format!("parts/{stem}")).is_some();
    named || file.parent().is_some_and(|folder| folder.ends_with("parts"))
}

/// A part is sound by itself; it is said what it takes and gives, and which procedures use it.
/// One that comes in place of a known part must fit those, too.
fn check_part(file: &Path, source: &SourceText, library: &Library) -> Result<String, Vec<Fault>> {
    let alone = library.load_part_source(source)?;
    let stem = file.file_stem().and_then(|stem| stem.to_str()).unwrap_or_default();
    let users = users(&format!("parts/{stem}"), source, library)?;
    let mut words = format!("a sound part with {}", counted(alone.procedure.count(), "step"));
    if !users.is_empty() {
        words.push_str(&format!(", used by {}", list(&users, "and")));
    }
    for (key, said) in alone.head.iter().filter(|(_, said)| !said.is_empty()) {
        words.push_str(&format!("\n  {:<7} {}", key.to_lowercase(), said.join(", ")));
    }
    Ok(words)
}

/// The procedures that use a part, which must be sound with this text of it.
fn users(name: &str, source: &SourceText, library: &Library) -> Result<Vec<String>, Vec<Fault>> {
    let Some(library) = library.with_part(name, source) else { return Ok(Vec::new()) };
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
    if faults.is_empty() { Ok(users) } else { Err(faults) }
}

/// Tables that system files have.
const TABLES: [&str; 6] = ["switch", "pump", "relief", "house", "tank", "gauge"];

/// A system file has none of a procedure's tables.
fn looks_like_system(text: &str) -> bool {
    let begins = |lead: &str, words: &[&str]| {
        let after = |line| str::trim_start(line).strip_prefix(lead);
        text.lines().filter_map(after).any(|rest| words.iter().any(|word| rest.starts_with(word)))
    };
    !begins("", &["[[step", "purpose"])
        && (begins("", &["elevation", "warmest", "coldest"]) || begins("[", &TABLES) || begins("[[", &TABLES))
}
