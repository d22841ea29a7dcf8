//! The end of a report: what was left open, where to sign, and the seal.

use crate::report::summary::effective_entries::EffectiveEntries;
use crate::report::{Page, PageBlock, Row};

use super::source::Account;

/// Who may sign a report.
const SIGNS: &[&str] =
    &["Who did the work, name and date", "Owner, name and date", "Inspector or buyer, name and date"];

impl EffectiveEntries<'_> {
    /// Adds what was skipped, not told and remarked, and the warnings that were read.
    pub(super) fn put_gaps(&self, page: &mut Page) {
        page.headed_list("Skipped, with reasons", self.skipped());
        page.headed_list("Not tested or not told", self.not_reported());
        page.headed_list("Remarks", self.remarks());
        let warnings = self.warnings().into_iter();
        let quoted =
            warnings.map(|(at, message)| format!("{} {}", at.time_of_day(), message.replace('\n', " ")));
        page.headed_list("Warnings read, word for word", quoted.collect());
        for gap in self.gaps() {
            page.note(gap);
        }
    }
}

/// Adds the place for signatures, and what shows that the record is whole.
pub(super) fn put(account: &Account<'_>, page: &mut Page) {
    page.heading("Signatures");
    page.blocks.push(PageBlock::Signatures(SIGNS.iter().map(ToString::to_string).collect()));
    page.heading("Seal");
    let header = &account.contents.header;
    let rows = [
        ("Record", Some(header.id.clone())),
        ("Written by", Some(header.program.clone())),
        ("Seals", Some(account.seals.to_string())),
    ];
    let row = |(word, text): (&str, Option<String>)| Some(Row::new([word.to_string(), text?]));
    page.table(&[], rows.into_iter().filter_map(row).collect());
    if let Some(seal) = account.last_seal {
        page.text(format!("Last seal:\n{seal}"));
    }
    page.text(format!(
        "The seal is the SHA-256 of everything the record holds before it. `tankhand records verify {}` holds \
         the file against its seals. A seal shows a slip or a careless edit; it is no signature.",
        header.id
    ));
}
