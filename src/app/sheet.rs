//! `sheet`: a procedure to fill in by hand.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::arguments::{UNITS, one_of};
use super::files::write_page;
use super::library::read_system;
use super::run::{named_tank, not_for_one_tank};
use super::{Done, Home, Library, Result};
use crate::quantity::Units;
use crate::report::{sheet_html, sheet_text, worksheet};

/// What is to be put on paper.
#[derive(Debug, clap::Args)]
pub struct SheetOrder {
    /// A procedure's name, or the path of its file (ending in .toml).
    pub procedure: String,
    /// The HTML file to write, for print; `-` for the output. Without it the sheet is text.
    #[arg(long, value_name = "FILE")]
    pub html: Option<PathBuf>,
    /// The system file, when another than your own is meant.
    #[arg(long, value_name = "FILE")]
    pub system: Option<PathBuf>,
    /// The tank to work on, by its id in the system file.
    #[arg(long, value_name = "ID")]
    pub tank: Option<String>,
    /// Units to show.
    #[arg(long, value_parser = one_of(UNITS))]
    pub units: Option<Units>,
}

/// Writes a worksheet: as text of so many columns, or as HTML to a file, where `-` is the output.
///
/// # Errors
/// When the procedure or the system file is faulty, or the file cannot be written.
pub fn sheet(order: &SheetOrder, home: &Home, width: usize, out: &mut dyn Write) -> Result<Done> {
    let usual = home.system_file();
    let system = read_system(order.system.as_deref(), &usual)?;
    let procedure = Library::beside(order.system.as_ref().unwrap_or(&usual)).load(&order.procedure)?;
    let tank = match &order.tank {
        Some(_) if !procedure.is_for_one_tank() => return Err(not_for_one_tank(&procedure)),
        Some(name) => named_tank(&system, name)?,
        None => 0,
    };
    let units = order.units.or(system.units).unwrap_or_default();
    let sheet = worksheet(&order.procedure, &procedure, (&system, tank), units);
    match &order.html {
        None => sheet_text(&sheet, width).iter().try_for_each(|line| writeln!(out, "{line}"))?,
        Some(path) if path == Path::new("-") => write!(out, "{}", sheet_html(&sheet))?,
        Some(path) => {
            write_page(path, &sheet_html(&sheet), out)?;
            writeln!(out, "Print it, fill it in, then: tankhand run {} --from-paper", order.procedure)?;
        }
    }
    Ok(Done::Well)
}
