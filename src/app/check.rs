//! `check`: prove procedure and system files sound.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::failure::{Done, Failure};
use super::home::Home;
use super::files::put_page;
use super::library::{Library, read_source};
use crate::procedure::{Texts, compare, part_name, twin};
use crate::report::{comparison_page, faults_json_lines};
use crate::source::{Fault, SourceText};
use crate::system;
use crate::words::{counted, list};

/// How faults are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FaultForm {
    /// Pages for a person, in so many columns.
    Text(usize),
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
            Ok(words) => {
                if let FaultForm::Text(width) = form {
                    writeln!(out, "{}: {words}", file.display())?;
                    beside_the_shipped((file, &source), home, width, out)?;
                }
            }
            Err(found) => faults.extend(found),
        }
    }
    let mut seen: Vec<Fault> = Vec::new();
    faults.retain(|fault| !seen.contains(fault) && { seen.push(fault.clone()); true });
    for why in &unread {
        writeln!(out, "{why}")?;
    }
    match form {
        _ if faults.is_empty() && !unread.is_empty() => Err(Failure::Reported),
        _ if faults.is_empty() => Ok(Done::Well),
        FaultForm::Text(_) => Err(Failure::Faults(faults)),
        FaultForm::Json => {
            write!(out, "{}", faults_json_lines(&faults))?;
            Err(Failure::Reported)
        }
    }
}

/// Says what a sound file does otherwise than the shipped one of its name, and what will use it.
fn beside_the_shipped(
    (file, source): (&Path, &SourceText),
    home: &Home,
    width: usize,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let same = twin(source.name()).is_some_and(|made| made.text == source.text());
    if same || looks_like_system(source.text()) {
        return Ok(());
    }
    let mut page = compare(source).map(|found| comparison_page(&found)).unwrap_or_default();
    page.text(where_used(file, source, home));
    writeln!(out)?;
    Ok(put_page(&page, width, out)?)
}

/// What will use a file from where it lies.
fn where_used(file: &Path, source: &SourceText, home: &Home) -> String {
    let stem = part_name(source.name());
    let part = is_part(file, &library_of(file, home));
    let name = if part { format!("parts/{stem}") } else { stem.to_string() };
    let own = home.system_file().with_file_name("procedures").join(format!("{name}.toml"));
    let lies_at = |path: &Path| file.canonicalize().ok().is_some_and(|at| path.canonicalize().ok() == Some(at));
    let system = file.canonicalize().ok().and_then(|at| {
        let above = at.ancestors().nth(if part { 3 } else { 2 })?.join("system.toml");
        above.is_file().then_some(above)
    });
    let used = match part {
        true => "every procedure that uses the part takes this file".to_string(),
        false => format!("`tankhand run {stem}` takes this file"),
    };
    if lies_at(&own) {
        return format!("From where it lies: {used}.");
    }
    if let Some(system) = system.filter(|_| file.ancestors().any(|folder| folder.ends_with("procedures"))) {
        return format!("From where it lies: with `--system {}` {used}.", system.display());
    }
    let path = match part {
        true => String::new(),
        false => format!(" Run it from here as `tankhand run {}`, or", file.display()),
    };
    let put = if part { " To have it used," } else { "" };
    format!("From where it lies nothing uses it by its name.{path}{put} put it at {}.", own.display())
}

fn check_one(file: &Path, source: &SourceText, home: &Home) -> Result<String, Vec<Fault>> {
    if looks_like_system(source.text()) {
        let system = system::load(source)?;
        return Ok(format!("a sound system file with {}", counted(system.tanks.len(), "tank")));
    }
    let library = library_of(file, home);
    if is_part(file, &library) {
        return check_part(file, source, &library);
    }
    match library.load_source(source) {
        Ok(procedure) => Ok(format!("a sound procedure with {}", counted(procedure.count(), "step"))),
        Err(faults) if faults.iter().any(|fault| fault.code == "part-alone") => {
            check_part(file, source, &library)
        }
        Err(faults) => Err(faults),
    }
}

/// A procedure's own parts stand beside it, or beside the owner's system file.
fn library_of(file: &Path, home: &Home) -> Library {
    let folder = file.parent().map(|folder| match folder.ends_with("parts") {
        true => folder.parent().unwrap_or(folder),
        false => folder,
    });
    match folder.and_then(Path::parent) {
        Some(beside) if folder.is_some_and(|folder| folder.ends_with("procedures")) => {
            Library::beside(&beside.join("system.toml"))
        }
        _ => Library::beside(&home.system_file()),
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

/// A system file has none of a procedure's tables.
fn looks_like_system(text: &str) -> bool {
    let begins = |words: &[&str]| {
        text.lines().any(|line| words.iter().any(|word| line.trim_start().starts_with(word)))
    };
    !begins(&["[[step", "purpose"])
        && begins(&[
            "[switch", "[[switch", "[pump", "[[pump", "[relief", "[[relief", "[house", "[[house", "[tank", "[[tank",
            "[gauge", "[[gauge", "elevation", "warmest", "coldest",
        ])
}
