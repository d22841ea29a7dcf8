//! Lines as bytes, one record after the other; nothing of a record is held once it is written.

use std::borrow::Cow;
use std::io::{self, Write};

use serde::Serializer;

use super::columns::{COLUMNS, Cell};
use super::line::ExportLine;
use super::sql;
use crate::record::EntryKind;
use crate::report::run_view::RunView;
use crate::words::{harmless, is_harmless};

/// How an export is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExportForm {
    /// Comma-separated values, as RFC 4180 has them.
    Csv,
    /// One JSON object a line.
    JsonLines,
    /// A table with typed columns, and its rows.
    Sql,
}

/// Writes records for other programs.
pub(crate) struct ExportWriter<W: Write> {
    bytes: Bytes<W>,
    kinds: Vec<EntryKind>,
    tank: Option<String>,
}

enum Bytes<W: Write> {
    Csv(Box<csv::Writer<W>>),
    JsonLines(io::BufWriter<W>),
    Sql(io::BufWriter<W>),
}

impl<W: Write> ExportWriter<W> {
    /// Begins an export: of CSV, writes the names of the columns. With `kinds`, only entries of
    /// these are written.
    ///
    /// # Errors
    /// Whatever `out` refuses.
    pub(crate) fn begin(form: ExportForm, kinds: &[EntryKind], out: W) -> io::Result<ExportWriter<W>> {
        let bytes = match form {
            ExportForm::JsonLines => Bytes::JsonLines(io::BufWriter::new(out)),
            ExportForm::Sql => {
                let mut out = io::BufWriter::new(out);
                sql::begin(&mut out)?;
                Bytes::Sql(out)
            }
            ExportForm::Csv => {
                let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(out);
                writer.write_record(COLUMNS.iter().map(|column| column.name)).map_err(io_error)?;
                Bytes::Csv(Box::new(writer))
            }
        };
        Ok(ExportWriter { bytes, kinds: kinds.to_vec(), tank: None })
    }

    /// From here on, entries that are about another tank are left out.
    pub(crate) fn only_of(&mut self, tank: Option<&str>) {
        self.tank = tank.map(ToString::to_string);
    }

    /// Writes the entries of one record.
    ///
    /// # Errors
    /// Whatever the output refuses.
    pub(crate) fn write(&mut self, run: &RunView<'_>) -> io::Result<()> {
        let started = run.contents.header.started.to_string();
        for line in run.all.iter().map(|seen| ExportLine::new(run, *seen, &started)) {
            let of_kind = self.kinds.is_empty() || self.kinds.contains(&line.entry.kind);
            let about = self.tank.as_deref().zip(line.tank());
            if !of_kind || about.is_some_and(|(only, tank)| tank != only) {
                continue;
            }
            match &mut self.bytes {
                Bytes::Csv(writer) => write_csv(writer, &line)?,
                Bytes::JsonLines(out) => write_json(out, &line)?,
                Bytes::Sql(out) => sql::row(out, &line)?,
            }
        }
        Ok(())
    }

    /// Hands everything on to the output.
    ///
    /// # Errors
    /// Whatever the output refuses.
    pub(crate) fn finish(mut self) -> io::Result<()> {
        match &mut self.bytes {
            Bytes::Csv(writer) => writer.flush(),
            Bytes::JsonLines(out) => out.flush(),
            Bytes::Sql(out) => sql::end(out),
        }
    }
}

fn write_csv<W: Write>(writer: &mut csv::Writer<W>, line: &ExportLine<'_>) -> io::Result<()> {
    for column in COLUMNS {
        writer.write_field(&*in_csv((column.cell)(line))).map_err(io_error)?;
    }
    writer.write_record(None::<&[u8]>).map_err(io_error)
}

fn write_json<W: Write>(out: &mut io::BufWriter<W>, line: &ExportLine<'_>) -> io::Result<()> {
    let fields = COLUMNS.iter().map(|column| (column.name, (column.cell)(line)));
    serde_json::Serializer::new(&mut *out).collect_map(fields).map_err(io::Error::from)?;
    out.write_all(b"\n")
}

fn in_csv(cell: Cell<'_>) -> Cow<'_, str> {
    match cell {
        Cell::Nothing => "".into(),
        Cell::Text(text) => guarded(text),
        Cell::Number(number) => format!("{number:?}").into(),
        Cell::Whole(whole) => whole.to_string().into(),
        Cell::Yes(yes) => u8::from(yes).to_string().into(),
        Cell::Texts(texts) => guarded(texts.join(" ").into()),
        Cell::List(list) => format!("{list:?}").into(),
    }
}

/// A text that no spreadsheet takes for a formula and no terminal for a command. The sign put in
/// front is the one put in front of itself too, so that it can always be taken away again.
fn guarded(text: Cow<'_, str>) -> Cow<'_, str> {
    let text = if is_harmless(&text) { text } else { harmless(&text.replace("\r\n", "\n")).into() };
    match text.starts_with(['=', '+', '-', '@', '\'', '\t', '＝', '＋', '－', '＠']) {
        true => format!("'{text}").into(),
        false => text,
    }
}

/// The machine's own error, so that a reader who has gone is told from a full disk.
#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds are another crate's")]
fn io_error(error: csv::Error) -> io::Error {
    match error.into_kind() {
        csv::ErrorKind::Io(error) => error,
        other => io::Error::other(format!("{other:?}")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_are_no_formulas_and_no_commands() {
        let table = [
            ("38 psi", "38 psi"),
            ("=HYPERLINK(\"x\")", "'=HYPERLINK(\"x\")"),
            ("+1", "'+1"),
            ("-2 psi", "'-2 psi"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("\t=1", "'\t=1"),
            ("＝1", "'＝1"),
            ("'so-called'", "''so-called'"),
            ("a\r\nb\rc", "a\nb\u{FFFD}c"),
            ("\u{1b}[2J", "\u{FFFD}[2J"),
            ("1 = 1", "1 = 1"),
            ("", ""),
        ];
        for (text, written) in table {
            assert_eq!(guarded(text.into()), written);
        }
    }

    #[test]
    fn numbers_are_written_with_the_fewest_digits_that_lead_back() {
        for (number, written) in [(38.0, "38.0"), (0.1, "0.1"), (1e300, "1e300"), (-2.5e-9, "-2.5e-9")] {
            assert_eq!(in_csv(Cell::Number(number)), written);
        }
    }
}
