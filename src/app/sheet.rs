//! `sheet`: a procedure to fill in by hand.

use std::io::Write;
use std::path::Path;

use super::files::write_page;
use super::library::read_system;
use super::run::{RunOrder, named_tank, not_for_one_tank};
use super::{Done, Failure, Home, Library};
use crate::report::{sheet_html, sheet_text, worksheet};

/// Writes a worksheet: as text of so many columns, or as HTML to a file, where `-` is the output.
///
/// # Errors
/// When the procedure or the system file is faulty, or the file cannot be written.
pub fn sheet(
    order: &RunOrder<'_>,
    (html, width): (Option<&Path>, usize),
    home: &Home,
    out: &mut dyn Write,
) -> Result<Done, Failure> {
    let usual = home.system_file();
    let system = read_system(order.system, &usual)?;
    let procedure = Library::beside(order.system.unwrap_or(&usual)).load(order.procedure)?;
    let tank = match order.tank {
        Some(_) if !procedure.is_for_one_tank() => return Err(not_for_one_tank(&procedure)),
        Some(name) => named_tank(&system, name)?,
        None => 0,
    };
    let units = order.units.or(system.units).unwrap_or_default();
    let sheet = worksheet(order.procedure, &procedure, (&system, tank), units);
    match html {
        None => sheet_text(&sheet, width).iter().try_for_each(|line| writeln!(out, "{line}"))?,
        Some(path) if path == Path::new("-") => write!(out, "{}", sheet_html(&sheet))?,
        Some(path) => {
            write_page(path, &sheet_html(&sheet), out)?;
            writeln!(out, "Print it, fill it in, then: tankhand run {} --from-paper", order.procedure)?;
        }
    }
    Ok(Done::Well)
}
