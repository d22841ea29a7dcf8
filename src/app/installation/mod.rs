//! `system`: the owner's installation shown, set up by questions, edited with its comments kept.

mod edit;
mod keep;
mod set_up;

use std::path::Path;

use super::library::read_system;
use super::{Done, Failure, Home, Stage};
use crate::console::Block;
use crate::report::{installation_page, to_text};
use edit::InstallationEdit;
pub(in crate::app) use keep::offer_to_keep;

/// What is to be done with the installation.
#[derive(Clone, Copy, Debug)]
pub enum InstallationOrder<'a> {
    /// Shows it.
    Show,
    /// Asks for it, one thing after the other.
    SetUp,
    /// Sets or takes out one value: its path, the value if any, and the tank it is of.
    Set(&'a str, Option<&'a str>, Option<&'a str>),
}

/// Shows, sets up or edits the system file: the one named, else the owner's.
///
/// # Errors
/// When the file has faults, or cannot be read or written.
pub fn installation(
    order: InstallationOrder<'_>,
    file: Option<&Path>,
    home: &Home,
    stage: &mut Stage<'_>,
) -> Result<Done, Failure> {
    let path = file.map_or_else(|| home.system_file(), Path::to_path_buf);
    match order {
        InstallationOrder::Show => show(&path, stage),
        InstallationOrder::SetUp => set_up::set_up(&path, stage),
        InstallationOrder::Set(key, value, tank) => {
            let mut edit = InstallationEdit::of(&path)?;
            let (what, named) = with_name(key);
            edit.set_all(&[(&what, value)], named.or(tank))?;
            edit.save(&path, stage)
        }
    }
}

/// The path of a table's key, and the name of the gauge or tank within it: `gauge.line.within` is `within` of the
/// gauge `line`.
fn with_name(key: &str) -> (String, Option<&str>) {
    match key.split('.').collect::<Vec<&str>>().as_slice() {
        [table @ ("gauge" | "tank"), id, key] => (format!("{table}.{key}"), Some(*id)),
        _ => (key.to_string(), None),
    }
}

/// What the file says, and what it does not say yet.
fn show(path: &Path, stage: &mut Stage<'_>) -> Result<Done, Failure> {
    if !path.exists() {
        let at = path.display();
        let text =
            format!("There is no system file yet. `tankhand system setup` asks for it and writes {at}");
        stage.show(Block::Text, text)?;
        return Ok(Done::Well);
    }
    let system = read_system(Some(path), path)?;
    let page = installation_page(&system, &path.display().to_string());
    stage.show(Block::Lines, to_text(&page, stage.width))?;
    Ok(Done::Well)
}
