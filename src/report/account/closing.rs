//! The end of a report: the seal.

use crate::report::run_view::RunView;
use crate::report::{Page, PageBlock};

/// How the seals of a record were found.
#[derive(Clone, Debug, Default)]
pub struct RecordSeals {
    /// All of them, in words.
    pub found: String,
    /// The last seal of the file.
    pub last: Option<String>,
    /// What is wrong with the file, when they do not hold.
    pub broken: Option<String>,
    /// The record itself, to be kept inside the report; nothing when it is not to be.
    pub bytes: Vec<u8>,
}

impl RecordSeals {
    /// As much of the last seal as tells it from any other.
    pub(in crate::report) fn short(&self) -> Option<&str> {
        self.last.as_deref()?.get(..16)
    }
}

/// Adds what shows that the record is whole, and the mark of the end.
pub(super) fn put(run: &RunView<'_>, seals: &RecordSeals, page: &mut Page) {
    page.heading("Seal");
    let header = &run.contents.header;
    page.table(&[], [["Record", &header.id], ["Written by", &header.program], ["Seals", &seals.found]]);
    if let Some(seal) = &seals.last {
        page.text(format!("Last seal:\n{seal}"));
    }
    if seals.bytes.is_empty() {
        page.text("A seal shows a slip or a careless edit of the record; it is no signature.");
    } else {
        page.text(
            "The seal is the SHA-256 of everything the record holds before it. A report as HTML holds the whole record: \
             `tankhand records verify FILE.html` checks its seals, and that the page says what the record says. A seal \
             shows a slip or a careless edit; it is no signature.",
        );
        page.blocks.push(PageBlock::File { name: format!("{}.toml", header.id), bytes: seals.bytes.clone() });
    }
    page.text(format!("Record {}. End of the report.", header.id));
}
