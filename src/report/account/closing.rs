//! The end of a report: what was left open, where to sign, and the seal.

use crate::report::run_view::RunView;
use crate::report::{Page, PageBlock, Row};

/// Who may sign a report.
const SIGNS: &[&str] =
    &["Who did the work, name and date", "Owner, name and date", "Inspector or buyer, name and date"];

/// How the seals of a record were found.
#[derive(Clone, Copy, Debug, Default)]
pub struct RecordSeals<'a> {
    /// All of them, in words.
    pub found: &'a str,
    /// The last seal of the file.
    pub last: Option<&'a str>,
    /// What is wrong with the file, when they do not hold.
    pub broken: Option<&'a str>,
}

impl RunView<'_> {
    /// Adds the warnings that were read, word for word.
    pub(super) fn put_warnings(&self, page: &mut Page) {
        let warnings = self.warnings().into_iter();
        let quoted =
            warnings.map(|(at, message)| format!("{} {}", at.time_of_day(), message.replace('\n', " ")));
        page.headed_list("Warnings read, word for word", quoted.collect());
    }
}

/// Adds the place for signatures, and what shows that the record is whole.
pub(super) fn put(run: &RunView<'_>, seals: &RecordSeals<'_>, page: &mut Page) {
    page.heading("Signatures");
    page.blocks.push(PageBlock::Signatures(SIGNS.iter().map(ToString::to_string).collect()));
    page.heading("Seal");
    let header = &run.contents.header;
    let rows = [("Record", &*header.id), ("Written by", &header.program), ("Seals", seals.found)];
    page.table(&[], rows.map(|(word, text)| Row::new([word, text])).into());
    if let Some(seal) = seals.last {
        page.text(format!("Last seal:\n{seal}"));
    }
    page.text(format!(
        "The seal is the SHA-256 of everything the record holds before it. `tankhand records verify {}` holds \
         the file against its seals. A seal shows a slip or a careless edit; it is no signature.",
        header.id
    ));
}
