//! `procedures`: what there is, one read out, one copied to be edited.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::files::{make_folder_of, put_page, write_new};
use super::{Done, Failure, Home, Library, Result};
use crate::procedure::{Texts, shipped};
use crate::report::{Places, part_page, procedure_page};
use crate::source::Fault;
use crate::words::{counted, path_shown};

/// Lists every procedure with its title. The owner's own are loaded, and so proven, on the way;
/// those that come with the program were proven when it was made.
///
/// # Errors
/// When the list cannot be written; when one does not load, after the list.
pub fn list(home: &Home, out: &mut dyn Write) -> Result<Done> {
    let library = Library::beside(&home.system_file());
    library.check_readable()?;
    let mut broken: Vec<Option<PathBuf>> = Vec::new();
    for name in library.procedures() {
        let title = match library.shipped_as_made(&name) {
            Some(title) => title.to_string(),
            None => match library.load(&name) {
                Ok(procedure) => procedure.title,
                Err(failure) => {
                    broken.push(library.own_path(&name).or_else(|| own_part(&failure, &library)));
                    does_not_load(&failure)
                }
            },
        };
        let own = match (library.is_own(&name), shipped(&name)) {
            (true, Some(_)) => "  (yours, in place of the shipped one)",
            (true, None) => "  (yours)",
            _ => "",
        };
        writeln!(out, "{name:<16} {title}{own}")?;
    }
    let remarks = library.remarks();
    for remark in &remarks {
        writeln!(out, "{remark}")?;
    }
    if broken.is_empty() {
        return Ok(if remarks.is_empty() { Done::Well } else { Done::Short });
    }
    if let Some(first) = broken.iter().flatten().next() {
        writeln!(out, "\nWhat is wrong, and what to write: tankhand check {}", path_shown(first))?;
    }
    Err(Failure::Reported)
}

/// The owner's part for which a shipped procedure does not load.
fn own_part(failure: &Failure, library: &Library) -> Option<PathBuf> {
    let Failure::Faults(faults) = failure else { return None };
    let name = |fault: &Fault| {
        let name = fault.source.name().strip_prefix("procedures/")?.strip_suffix(".toml")?;
        library.own_path(name)
    };
    faults.iter().find_map(name)
}

/// What the list says of a procedure that does not load: it hides none of the others.
fn does_not_load(failure: &Failure) -> String {
    match failure {
        Failure::Faults(faults) => format!("DOES NOT LOAD: {}", counted(faults.len(), "fault")),
        other => format!("DOES NOT LOAD: {other}"),
    }
}

/// Reads a procedure or a part out, with the file and line of each sentence if wanted.
///
/// # Errors
/// When there is none of that name, or it has faults.
pub fn show(name: &str, places: Places, home: &Home, width: usize, out: &mut dyn Write) -> Result<Done> {
    let library = Library::beside(&home.system_file());
    let page = match name.starts_with("parts/") {
        true => part_page(name, &library.load_part(name)?, places),
        false => procedure_page(name, &library.load(name)?, places),
    };
    put_page(&page, width, out)
}

/// Copies the text of a procedure or part to a file that is not there yet.
///
/// # Errors
/// When there is none of that name, or the file cannot be made.
pub fn copy(name: &str, to: Option<&Path>, home: &Home, out: &mut dyn Write) -> Result<Done> {
    let library = Library::beside(&home.system_file());
    let part = format!("parts/{name}");
    let name = if library.text(name).is_none() && library.text(&part).is_some() { &part } else { name };
    let Some(source) = library.text(name) else {
        return Err(Failure::unknown("There is no procedure", name, library.names()));
    };
    let source = source.map_err(|why| Failure::Machine(why.to_string()))?;
    let usual = format!("{}.toml", name.rsplit('/').next().unwrap_or(name));
    let path = to.unwrap_or(Path::new(&usual));
    make_folder_of(path)?;
    write_new(path, |file| Ok(file.write_all(source.text().as_bytes())?))?;
    writeln!(out, "{} written. Edit it, then: tankhand check {}", path_shown(path), path_shown(path))?;
    writeln!(out, "To use it by its name, put it into {}.", path_shown(home.own_file(name)))?;
    Ok(Done::Well)
}
