//! `records report` and `records tag`: a record as a file for others to read.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::files::{put_page, write_page};
use super::opened::OpenedRecord;
use super::{Done, Failure, Home, Result};
use crate::report::{
    HtmlForm, Page, all_to_html, brief_lines, kept_file, record_comparison_page, report_pages, tag_pages,
    to_html, to_text,
};
use crate::words::path_shown;

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
    /// What it comes to, in twenty lines.
    Brief,
}

/// Writes the report of a record.
///
/// # Errors
/// When there is no such record, it cannot be read, or the file cannot be written.
pub fn report(id: &str, to: &ReportTo, home: &Home, out: &mut dyn Write) -> Result<Done> {
    put_report(&OpenedRecord::of(id, home)?, to, out)
}

/// The same without what tells whose the record is.
///
/// # Errors
/// As [`report`].
pub fn anonymous_report(id: &str, to: &ReportTo, home: &Home, out: &mut dyn Write) -> Result<Done> {
    put_report(&OpenedRecord::of(id, home)?.without_identity(), to, out)
}

fn put_report(record: &OpenedRecord, to: &ReportTo, out: &mut dyn Write) -> Result<Done> {
    if *to == ReportTo::Brief {
        let lines = record.with(|run| brief_lines(run, &record.seals));
        lines.iter().try_for_each(|line| writeln!(out, "{line}"))?;
        return Ok(record.done());
    }
    let pages = record.with(|run| report_pages(run, &record.seals));
    put(record, (&pages, HtmlForm::Report), to, out)
}

/// Shows two records side by side, and writes the same as HTML where that is asked for.
///
/// # Errors
/// As [`report`].
pub fn compare(
    [first, second]: [&str; 2],
    html: Option<&Path>,
    home: &Home,
    (width, out): (usize, &mut dyn Write),
) -> Result<Done> {
    let [first, second] = [OpenedRecord::of(first, home)?, OpenedRecord::of(second, home)?];
    let mut page = first.with(|a| second.with(|b| record_comparison_page(a, b)));
    for record in [&first, &second] {
        if let Some(broken) = &record.seals.broken {
            let id = &record.contents.header.id;
            page.note(format!("BROKEN SEAL in {id}: {broken}. Only what is whole was compared."));
        }
    }
    put_page(&page, width, out)?;
    if let Some(path) = html {
        write_page(path, &to_html(&page, HtmlForm::Report, "Two records compared"), out)?;
    }
    Ok(if first.seals.broken.is_some() { Done::Short } else { second.done() })
}

/// Verifies the page at `path`: the record it holds, and that it says what that record says.
///
/// # Errors
/// When the file cannot be read or holds no record.
pub(super) fn verify_page(path: &Path, out: &mut dyn Write) -> Result<Done> {
    if !path.is_file() {
        return Err(Failure::about(path, "there is no such file"));
    }
    let html = std::fs::read_to_string(path).map_err(|error| Failure::about(path, error))?;
    let bytes = kept_file(&html).ok_or_else(|| Failure::about(path, "this page holds no record"))?;
    let record = OpenedRecord::from_bytes(bytes).map_err(|trouble| trouble.at(path))?;
    writeln!(out, "{}: the record {}: {}", path_shown(path), record.contents.header.id, record.seals.found)?;
    let pages = record.with(|run| report_pages(run, &record.seals));
    let same = html == record_html(&record, &pages, HtmlForm::Report);
    let page = match same {
        true => "the page says what the record says",
        false => {
            "the page is not the one this version makes of the record: another version made it, or somebody \
             changed it. Go by the record"
        }
    };
    writeln!(out, "{}: {page}", path_shown(path))?;
    Ok(if same && record.is_sound() { Done::Well } else { Done::Short })
}

/// Writes the tag of the tank a record is about; of several tanks, one each.
///
/// # Errors
/// As [`report`]; also when nothing was left that a tag could tell.
pub fn tag(id: &str, to: &ReportTo, form: HtmlForm, home: &Home, out: &mut dyn Write) -> Result<Done> {
    let record = OpenedRecord::of(id, home)?;
    let id = &record.contents.header.id;
    let pages = record
        .with(tag_pages)
        .map_err(|why| Failure::Call(format!("There is no tag to be made of the record {id}: {why}.")))?;
    put(&record, (&pages, form), to, out)
}

/// Pages of a record as one file.
fn record_html(record: &OpenedRecord, pages: &[Page], form: HtmlForm) -> String {
    let title = pages.first().and_then(|page| page.title.clone()).unwrap_or_default();
    let word = if form == HtmlForm::Report { "record" } else { "tag" };
    all_to_html(pages, form, &format!("{title}, {word} {}", record.shown().header.id))
}

/// Writes pages of a record to where they go.
fn put(
    record: &OpenedRecord,
    (pages, form): (&[Page], HtmlForm),
    to: &ReportTo,
    out: &mut dyn Write,
) -> Result<Done> {
    let tag = if form == HtmlForm::Report { "" } else { "-tag" };
    let html = || record_html(record, pages, form);
    let written = |path: &Path, out: &mut dyn Write| -> Result<()> {
        write_page(path, &html(), out)?;
        if let Some(broken) = &record.seals.broken {
            writeln!(out, "BROKEN SEAL: {broken}. The page holds only what is whole.")?;
        }
        Ok(())
    };
    match to {
        ReportTo::Text | ReportTo::Brief => {
            let texts: Vec<String> = pages.iter().map(|page| to_text(page, COLUMNS).join("\n")).collect();
            writeln!(out, "{}", texts.join("\n\n\n"))?;
        }
        ReportTo::Html(path) if path == Path::new("-") => write!(out, "{}", html())?,
        ReportTo::Html(path) => written(path, out)?,
        ReportTo::OwnFile => written(Path::new(&format!("{}{tag}.html", record.file_stem())), out)?,
    }
    Ok(record.done())
}
