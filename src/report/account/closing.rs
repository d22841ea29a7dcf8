//! The end of a report: what was left open, where to sign, and the seal.

use crate::engine::ACKNOWLEDGE;
use crate::record::{Entry, EntryKind};
use crate::report::summary::effective_entries::EffectiveEntries;
use crate::report::wording::sentence;
use crate::report::{Page, PageBlock, Row};

use super::source::Account;

/// Who may sign a report.
const SIGNS: &[&str] =
    &["Who did the work, name and date", "Owner, name and date", "Inspector or buyer, name and date"];

impl EffectiveEntries<'_> {
    /// Adds what was skipped, not told and remarked, and the cautions acknowledged.
    pub(super) fn put_gaps(&self, page: &mut Page) {
        page.headed_list("Skipped, with reasons", self.skipped());
        page.headed_list("Not tested or not told", self.not_reported());
        page.headed_list("Remarks", self.remarks());
        page.heading("Cautions acknowledged");
        match self.acknowledged() {
            none if none.is_empty() => page.text("None."),
            some => page.blocks.push(PageBlock::List(some)),
        }
        for gap in self.gaps() {
            page.note(gap);
        }
    }

    /// The work before which a danger was acknowledged in words; each step once.
    fn acknowledged(&self) -> Vec<String> {
        let in_words = |entry: &&Entry| {
            entry.given.as_deref().is_some_and(|given| given.eq_ignore_ascii_case(ACKNOWLEDGE))
        };
        let mut steps: Vec<(&Entry, usize)> = Vec::new();
        for entry in self.of_kind(EntryKind::Done).filter(in_words) {
            match steps.iter_mut().find(|(first, _)| first.step == entry.step) {
                Some((_, times)) => *times += 1,
                None => steps.push((entry, 1)),
            }
        }
        let line = |(entry, times): (&Entry, usize)| {
            let what = match &entry.asked {
                Some(asked) => asked.split('\n').next().unwrap_or(asked).to_string(),
                None => sentence(&self.steps.label(&entry.step)),
            };
            match times {
                1 => format!("{} {what}", entry.at.time_of_day()),
                n => format!("{} and later, {n} times: {what}", entry.at.time_of_day()),
            }
        };
        steps.into_iter().map(line).collect()
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
