//! `sheet`: a procedure to fill in by hand.

use std::io::Write;
use std::path::Path;

use super::failure::{Done, Failure};
use super::files::write_page;
use super::home::Home;
use super::library::{Library, read_system};
use super::run::{RunOrder, named_tank, not_for_one_tank};
use crate::report::{sheet_html, sheet_text, worksheet};

/// What a worksheet becomes.
pub struct SheetForm<'a> {
    /// The file for HTML, where `-` is the output; text when there is none.
    pub html: Option<&'a Path>,
    /// The columns of text.
    pub width: usize,
}

/// Writes a worksheet: as text, or as HTML to a file, where `-` is the output.
///
/// # Errors
/// When the procedure or the system file is faulty, or the file cannot be written.
pub fn sheet(
    order: &RunOrder<'_>,
    form: &SheetForm<'_>,
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
    match form.html {
        None => sheet_text(&sheet, form.width).iter().try_for_each(|line| writeln!(out, "{line}"))?,
        Some(path) if path == Path::new("-") => write!(out, "{}", sheet_html(&sheet))?,
        Some(path) => {
            write_page(path, &sheet_html(&sheet), out)?;
            writeln!(out, "Print it, fill it in, then: tankhand run {} --from-paper", order.procedure)?;
        }
    }
    Ok(Done::Well)
}
