//! `records`: list, read out, verify.

use std::io::{BufWriter, Write};
use std::path::Path;

use super::failure::{Done, Failure};
use super::files::put_page;
use super::home::Home;
use super::opened::OpenedRecord;
use super::record_filter::RecordFilter;
use super::report::verify_page;
use super::resume::find_record;
use crate::record::{Glance, Verification, list, verify};
use crate::report::{Page, PageBlock, record_page, records_page, summary_page};
use crate::words::wrap;

/// Lists the records that are meant, newest first; files that cannot be read are told at the end.
///
/// # Errors
/// When the folder cannot be read.
pub fn list_records(
    filter: &RecordFilter<'_>,
    home: &Home,
    width: usize,
    out: &mut dyn Write,
) -> Result<Done, Failure> {
    let all = list(&home.records())?;
    if all.is_empty() {
        writeln!(out, "No records yet. They will stand in {}", home.records().display())?;
        return Ok(Done::Well);
    }
    let mut out = BufWriter::new(out);
    let mut page = records_page(&filter.of(&all));
    if !all.iter().flatten().any(|glance| filter.takes(glance)) {
        let glances: Vec<&Glance> = all.iter().flatten().collect();
        page = nothing_fits(page, filter.none_among(&glances));
    }
    put_page(&page, width, &mut out)?;
    out.flush()?;
    Ok(Done::Well)
}

/// The page of a list with nothing in it but files that cannot be read, and why it is empty.
fn nothing_fits(mut page: Page, why: String) -> Page {
    page.blocks.retain(|block| !matches!(block, PageBlock::Text(_)));
    page.blocks.insert(0, PageBlock::Text(why));
    page
}

/// Reads a record out: its summary, then every entry, with what was withdrawn struck through.
///
/// # Errors
/// When there is none, or it cannot be read.
pub fn show_record(id: &str, home: &Home, width: usize, out: &mut dyn Write) -> Result<Done, Failure> {
    let record = OpenedRecord::of(id, home)?;
    if let Some(what) = &record.broken {
        let text = format!("BROKEN SEAL: {what}. Below stands what was written before that.");
        writeln!(out, "{}\n", wrap(&text, width, 0).join("\n"))?;
    }
    let run = record.view();
    for page in [summary_page(&run), record_page(&run, Some(&record.seals))] {
        put_page(&page, width, out)?;
        writeln!(out)?;
    }
    Ok(record.done())
}

/// Verifies the seals of one record or of all, each named with the line where something is wrong.
///
/// # Errors
/// When the record named is not there, or the folder cannot be read.
pub fn verify_records(id: Option<&str>, home: &Home, out: &mut dyn Write) -> Result<Done, Failure> {
    if let Some(page) = id.filter(|id| id.ends_with(".html")) {
        return verify_page(Path::new(page), out);
    }
    let paths = match id {
        Some(id) => vec![find_record(id, home)?],
        None => list(&home.records())?
            .into_iter()
            .map(|glance| glance.map_or_else(|fault| fault.path, |glance| glance.path))
            .collect(),
    };
    let mut sound = true;
    for path in paths {
        let findings = match verify(&path) {
            Ok(findings) => findings,
            Err(fault) if id.is_some() => return Err(fault.into()),
            Err(fault) => vec![Verification::Unreadable(fault.trouble)],
        };
        for finding in findings {
            sound &= finding.is_sound();
            let line = finding.line().map_or_else(String::new, |line| format!(":{line}"));
            writeln!(out, "{}{line}: {finding}", path.display())?;
        }
    }
    Ok(if sound { Done::Well } else { Done::Short })
}
