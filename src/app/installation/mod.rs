//! `system`: the owner's installation shown, set up by questions, edited with its comments kept.

mod edit;
mod keep;
mod set_up;

use std::path::Path;

use super::library::read_system;
use super::{Done, Home, Result, Stage};
use crate::console::Block;
use crate::disk::is_there;
use crate::report::{installation_page, to_text};
use crate::words::path_shown;
use edit::InstallationEdit;
pub(in crate::app) use keep::offer_to_keep;

/// What is to be done with the installation.
#[derive(Debug, clap::Subcommand)]
pub enum InstallationOrder {
    /// Asks for everything the file may say; Enter leaves a thing out or as it is.
    #[command(after_help = "Example: tankhand system setup")]
    Setup,
    /// Changes one thing; comments and order stay.
    #[command(after_help = "Example: tankhand system set pump.power '1/2 hp'")]
    Set {
        /// What, such as `switch.cut_in` or `tank.precharge`.
        key: String,
        /// The value with its unit; a bare number counts in the household's.
        #[arg(allow_hyphen_values = true)]
        value: String,
        /// The tank, by its id.
        #[arg(long, value_name = "ID")]
        tank: Option<String>,
    },
    /// Takes one thing out.
    #[command(after_help = "Example: tankhand system unset tank.precharge --tank green")]
    Unset {
        /// What, such as `switch.cut_in` or `tank.precharge`.
        key: String,
        /// The tank, by its id.
        #[arg(long, value_name = "ID")]
        tank: Option<String>,
    },
}

/// Shows the system file, the one named or else the owner's; sets it up or edits it.
///
/// # Errors
/// When the file has faults, or cannot be read or written.
pub fn installation(
    order: Option<&InstallationOrder>,
    file: Option<&Path>,
    home: &Home,
    stage: &mut Stage<'_>,
) -> Result<Done> {
    let path = file.map_or_else(|| home.system_file(), Path::to_path_buf);
    let (key, value, tank) = match order {
        None => return show(&path, stage),
        Some(InstallationOrder::Setup) => return set_up::set_up(&path, stage),
        Some(InstallationOrder::Set { key, value, tank }) => (key, Some(value.as_str()), tank),
        Some(InstallationOrder::Unset { key, tank }) => (key, None, tank),
    };
    let mut edit = InstallationEdit::of(&path)?;
    let (what, named) = with_name(key);
    edit.set_all(&[(&what, value)], named.or(tank.as_deref()))?;
    edit.save(&path, stage)
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
fn show(path: &Path, stage: &mut Stage<'_>) -> Result<Done> {
    if !is_there(path) {
        let at = path_shown(path);
        let text =
            format!("There is no system file yet. `tankhand system setup` asks for it and writes {at}");
        stage.show(Block::Text, text)?;
        return Ok(Done::Well);
    }
    let system = read_system(Some(path), path)?;
    let page = installation_page(&system, &path_shown(path));
    stage.show(Block::Lines, to_text(&page, stage.width))?;
    Ok(Done::Well)
}
