//! `records`: list, read out, mend.

use std::io::{BufWriter, Write};

use super::files::put_page;
use super::opened::OpenedRecord;
use super::record_filter::{KnownWords, RecordFilter};
use super::resume::find_record;
use super::unseen::none_seen;
use super::{Done, Home, Result};
use crate::record::{FileOrder, FolderAccount, RecordFolder, end_fault, mend};
use crate::report::{Page, lost_entries, put_account, record_page, records_page, summary_page};
use crate::words::{path_shown, wrap};

/// How many records are put out as one table, so that a list needs no more memory the longer it is.
const ROWS_A_TABLE: usize = 1_000;

/// Lists the records that are meant, the newest first by their names; then what became of every file.
///
/// # Errors
/// When the folder cannot be read.
pub(crate) fn list_records(
    filter: &RecordFilter,
    home: &Home,
    width: usize,
    out: &mut dyn Write,
) -> Result<Done> {
    let mut out = BufWriter::new(out);
    let mut records = RecordFolder::of(&home.records(), FileOrder::Newest);
    let (mut rows, mut known, mut shown) = (Vec::new(), KnownWords::default(), 0);
    put_page(&Page::titled("Records"), width, &mut out)?;
    writeln!(out)?;
    while let Some(glance) = records.next_record()? {
        known.note(&glance);
        if let Some(fault) = glance.unsealed_end.then(|| end_fault(&glance.path)).flatten() {
            records.account.retract(Some(fault));
        }
        rows.extend(Some(glance).filter(|glance| filter.takes(glance)));
        if rows.len() == ROWS_A_TABLE {
            shown += rows.len();
            put_page(&records_page(&rows), width, &mut out)?;
            writeln!(out)?;
            rows.clear();
        }
    }
    let mut page = records_page(&rows);
    let account = records.account;
    if shown + rows.len() == 0 && account.understood > 0 {
        page.text(filter.none_among(&known));
    }
    put_end(&account, home, &mut page);
    if account.files > 0 {
        page.text("This is a first look: `tankhand records verify` checks every seal.");
    }
    put_page(&page, width, &mut out)?;
    out.flush()?;
    Ok(done(&account))
}

/// Puts what became of every file at the end of a page; where there are none, why none are seen.
pub(super) fn put_end(account: &FolderAccount, home: &Home, page: &mut Page) {
    match account.files {
        0 => page.text(none_seen(home)),
        _ => put_account(account, page),
    }
}

/// How a command ends that accounts for every file.
pub(super) fn done(account: &FolderAccount) -> Done {
    if account.wrong() == 0 { Done::Well } else { Done::Short }
}

/// Writes what is whole of a damaged record to a new one.
///
/// # Errors
/// When the record is whole, nothing in it is, or the new file cannot be written.
pub(crate) fn mend_record(id: &str, home: &Home, width: usize, out: &mut dyn Write) -> Result<Done> {
    let path = find_record(id, home)?;
    let (new, mended, torn) = mend(&path)?;
    let lost = lost_entries(&mended).unwrap_or_else(|| "every entry is in it".to_string());
    let head = if mended.head { " Of its head there is only what could be read." } else { "" };
    let torn_end = torn.as_ref().map(|tail| format!(" At its end {}.", tail.message())).unwrap_or_default();
    let text = format!(
        "{} written: all that is whole of {}; {lost}.{head}{torn_end} The damaged file stays as it is: keep it elsewhere.",
        path_shown(new),
        path_shown(path)
    );
    writeln!(out, "{}", wrap(&text, width, 0).join("\n"))?;
    Ok(if mended.lost.is_empty() && !mended.head && torn.is_none() { Done::Well } else { Done::Short })
}

/// Reads a record out: its summary, then every entry, with what was withdrawn struck through.
///
/// # Errors
/// When there is none, or it cannot be read.
pub(crate) fn show_record(id: &str, home: &Home, width: usize, out: &mut dyn Write) -> Result<Done> {
    let record = OpenedRecord::of(id, home)?;
    if let Some(what) = &record.seals.broken {
        let text = format!("BROKEN SEAL: {what}. Below stands all that is whole.");
        writeln!(out, "{}\n", wrap(&text, width, 0).join("\n"))?;
    }
    let run = record.view();
    for page in [summary_page(&run), record_page(&run, Some(&record.seals.found))] {
        put_page(&page, width, out)?;
        writeln!(out)?;
    }
    Ok(record.done())
}
