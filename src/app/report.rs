//! `records report` and `records tag`: a record as a file for others to read.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::failure::{Done, Failure};
use super::files::write_page;
use super::home::Home;
use super::opened::OpenedRecord;
use crate::report::{HtmlForm, Page, all_to_html, report_page, tag_pages, to_text};

/// The width of a report in text: it is made to be sent.
const COLUMNS: usize = 80;

/// Where a report or tag goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReportTo {
    /// As HTML to a file; `-` is the output.
    Html(PathBuf),
    /// As HTML to a file named after the record, in the current folder.
    OwnFile,
    /// As text to the output.
    Text,
}

/// Writes the report of a record.
///
/// # Errors
/// When there is no such record, it cannot be read, or the file cannot be written.
pub fn report(id: &str, to: &ReportTo, home: &Home, out: &mut dyn Write) -> Result<Done, Failure> {
    let record = OpenedRecord::of(id, home)?;
    let page = record.with(|run| report_page(run, &record.record_seals()));
    put(&record, (&[page], HtmlForm::Report), to, out)
}

/// Writes the tag of the tank a record is about; of several tanks, one each.
///
/// # Errors
/// As [`report`]; also when nothing was left that a tag could tell.
pub fn tag(id: &str, to: &ReportTo, home: &Home, out: &mut dyn Write) -> Result<Done, Failure> {
    let record = OpenedRecord::of(id, home)?;
    let id = &record.contents.header.id;
    let pages = record
        .with(tag_pages)
        .map_err(|why| Failure::Call(format!("There is no tag to be made of the record {id}: {why}.")))?;
    put(&record, (&pages, HtmlForm::Tag), to, out)
}

/// Writes pages of a record to where they go.
fn put(
    record: &OpenedRecord,
    (pages, form): (&[Page], HtmlForm),
    to: &ReportTo,
    out: &mut dyn Write,
) -> Result<Done, Failure> {
    let id = &record.contents.header.id;
    let (word, own) = match form {
        HtmlForm::Report => ("Record", format!("{id}.html")),
        HtmlForm::Tag => ("Tag", format!("{id}-tag.html")),
    };
    let html = || all_to_html(pages, form, &format!("{word} {id}"));
    match to {
        ReportTo::Text => {
            let texts: Vec<String> = pages.iter().map(|page| to_text(page, COLUMNS).join("\n")).collect();
            writeln!(out, "{}", texts.join("\n\n\n"))?;
        }
        ReportTo::Html(path) if path == Path::new("-") => write!(out, "{}", html())?,
        ReportTo::Html(path) => write_page(path, &html(), out)?,
        ReportTo::OwnFile => write_page(Path::new(&own), &html(), out)?,
    }
    Ok(record.done())
}
