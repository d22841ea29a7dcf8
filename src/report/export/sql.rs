//! Lines as SQL that `SQLite` and `DuckDB` take: a table with typed columns, and a row for each line.

use std::io::{self, Write};

use super::columns::{COLUMNS, Cell, Column};
use super::line::ExportLine;
use crate::words::harmless;

/// Begins the table; each column with what it means.
pub(super) fn begin<W: Write>(out: &mut W) -> io::Result<()> {
    writeln!(out, "BEGIN TRANSACTION;\nCREATE TABLE entries (")?;
    for (at, column) in COLUMNS.iter().enumerate() {
        let comma = if at + 1 < COLUMNS.len() { "," } else { "" };
        writeln!(out, "  \"{}\" {}{comma} -- {}", column.name, kind(column), column.means)?;
    }
    writeln!(out, ");")
}

fn kind(column: &Column) -> &'static str {
    match column.holds {
        "number" => "DOUBLE PRECISION",
        "whole number" | "yes or no" => "INTEGER",
        _ => "TEXT",
    }
}

/// Writes one line as a row.
pub(super) fn row<W: Write>(out: &mut W, line: &ExportLine<'_>) -> io::Result<()> {
    let cells: Vec<String> = COLUMNS.iter().map(|column| value((column.cell)(line))).collect();
    writeln!(out, "INSERT INTO entries VALUES ({});", cells.join(", "))
}

/// Ends what [`begin`] began.
pub(super) fn end<W: Write>(out: &mut W) -> io::Result<()> {
    writeln!(out, "COMMIT;")?;
    out.flush()
}

fn value(cell: Cell<'_>) -> String {
    match cell {
        Cell::Nothing => "NULL".to_string(),
        Cell::Text(text) => quoted(&text),
        Cell::Number(number) if number.is_finite() => format!("{number:?}"),
        Cell::Number(_) => "NULL".to_string(),
        Cell::Whole(whole) => whole.to_string(),
        Cell::Yes(yes) => u8::from(yes).to_string(),
        Cell::Texts(texts) => quoted(&texts.join(" ")),
        Cell::List(list) => quoted(&format!("{list:?}")),
    }
}

fn quoted(text: &str) -> String {
    format!("'{}'", harmless(&text.replace("\r\n", "\n")).replace('\'', "''"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_ends_its_quotes() {
        assert_eq!(value(Cell::Text("x'); DROP TABLE entries; --".into())), "'x''); DROP TABLE entries; --'");
        assert_eq!(value(Cell::List(&[1, 12])), "'[1, 12]'");
        assert_eq!(value(Cell::Yes(true)), "1");
        assert_eq!(value(Cell::Number(f64::NAN)), "NULL");
    }
}
