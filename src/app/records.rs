//! `records`: list, read out, verify.

use std::io::Write;

use super::failure::{Done, Failure};
use super::home::Home;
use super::resume::{find_record, setting};
use crate::record::{Trouble, list, read, read_sealed_part, verify};
use crate::report::{record_page, records_page, summary_page, to_text};

/// Lists the records, newest first.
///
/// # Errors
/// When the folder cannot be read.
pub fn list_records(home: &Home, width: usize, out: &mut dyn Write) -> Result<Done, Failure> {
    let glances = list(&home.records())?;
    if glances.is_empty() {
        writeln!(out, "No records yet. They will stand in {}", home.records().display())?;
        return Ok(Done::Well);
    }
    for line in to_text(&records_page(&glances), width) {
        writeln!(out, "{line}")?;
    }
    Ok(Done::Well)
}

/// Reads a record out: its summary, then every entry, with what was withdrawn struck through.
///
/// # Errors
/// When there is none, or it cannot be read.
pub fn show_record(id: &str, home: &Home, width: usize, out: &mut dyn Write) -> Result<Done, Failure> {
    let path = find_record(id, home)?;
    let (contents, edited) = match read(&path) {
        Ok(contents) => (contents, None),
        Err(fault) if matches!(fault.trouble, Trouble::Edited(_)) => {
            (read_sealed_part(&path)?, Some(fault.trouble.what()))
        }
        Err(fault) => return Err(fault.into()),
    };
    if let Some(what) = &edited {
        let text = format!("BROKEN SEAL: {what}. Below stands what was written before that.");
        for line in crate::words::wrap(&text, width, 0) {
            writeln!(out, "{line}")?;
        }
        writeln!(out)?;
    }
    let seals: Vec<String> = verify(&path)?.iter().map(ToString::to_string).collect();
    // A record stays readable when this program no longer takes its procedure.
    let procedure = setting(&contents).ok().map(|setting| setting.procedure);
    let summary = summary_page(&contents, procedure.as_deref());
    let whole = record_page(&contents, procedure.as_deref(), Some(&seals.join(" ")));
    for page in [summary, whole] {
        for line in to_text(&page, width) {
            writeln!(out, "{line}")?;
        }
        writeln!(out)?;
    }
    Ok(if edited.is_some() { Done::Short } else { Done::Well })
}

/// Verifies the seals of one record or of all.
///
/// # Errors
/// When a record cannot be read at all.
pub fn verify_records(id: Option<&str>, home: &Home, out: &mut dyn Write) -> Result<Done, Failure> {
    let paths = match id {
        Some(id) => vec![find_record(id, home)?],
        None => list(&home.records())?
            .into_iter()
            .map(|glance| glance.map_or_else(|fault| fault.path, |glance| glance.path))
            .collect(),
    };
    let mut sound = true;
    for path in paths {
        for finding in verify(&path)? {
            sound &= finding.is_sound();
            writeln!(out, "{}: {finding}", path.display())?;
        }
    }
    Ok(if sound { Done::Well } else { Done::Short })
}
