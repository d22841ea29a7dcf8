//! `sheet`: a procedure to fill in by hand.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::arguments::{UNITS, WorkOrder, one_of};
use super::files::write_page;
use super::run::{named_tank, not_for_one_tank};
use super::{Done, Home, Result};
use crate::quantity::Units;
use crate::report::{sheet_html, sheet_text, worksheet};

/// What is to be put on paper.
#[derive(Debug, clap::Args)]
pub struct SheetOrder {
    /// The HTML file to write, for print; `-` for the output. Without it the sheet is text.
    #[arg(long, value_name = "FILE")]
    pub html: Option<PathBuf>,
    /// Which procedure, on what.
    #[command(flatten)]
    pub work: WorkOrder,
    /// Units to show.
    #[arg(long, value_parser = one_of(UNITS))]
    pub units: Option<Units>,
}

/// Writes a worksheet: as text of so many columns, or as HTML to a file, where `-` is the output.
///
/// # Errors
/// When the procedure or the system file is faulty, or the file cannot be written.
pub fn sheet(order: &SheetOrder, home: &Home, width: usize, out: &mut dyn Write) -> Result<Done> {
    let (system, procedure, _) = order.work.loaded(home)?;
    let name = &order.work.procedure;
    let tank = match &order.work.tank {
        Some(_) if !procedure.is_for_one_tank() => return Err(not_for_one_tank(&procedure)),
        Some(tank) => named_tank(&system, tank)?,
        None => 0,
    };
    let units = order.units.or(system.units).unwrap_or_default();
    let sheet = worksheet(name, &procedure, (&system, tank), units);
    match &order.html {
        None => sheet_text(&sheet, width).iter().try_for_each(|line| writeln!(out, "{line}"))?,
        Some(path) if path == Path::new("-") => write!(out, "{}", sheet_html(&sheet))?,
        Some(path) => {
            write_page(path, &sheet_html(&sheet), out)?;
            writeln!(out, "Print it, fill it in, then: tankhand run {name} --from-paper")?;
        }
    }
    Ok(Done::Well)
}
