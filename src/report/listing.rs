//! The list of records, and what became of every file of their folder.

use super::wording::{outcome_word, with_findings};
use super::{Page, Row};
use crate::record::{FolderAccount, Glance};
use crate::words::{counted, list, non_empty, on_one_line};

/// Records in a table, in the order given.
pub fn records_page(records: &[Glance]) -> Page {
    let mut page = Page::default();
    page.table(&["Record", "Begun", "Procedure", "Tank", "Outcome"], records.iter().map(row));
    page
}

/// Puts on a page what became of every file: those that something is wrong with, each with the reason and
/// what to do, then how many there are.
///
/// ```
/// use tankhand::record::FolderAccount;
/// use tankhand::report::{Page, put_account, to_text};
/// let mut page = Page::default();
/// put_account(&FolderAccount { files: 7, understood: 7, ..FolderAccount::default() }, &mut page);
/// assert_eq!(to_text(&page, 80), ["7 files: 7 understood."]);
/// ```
pub fn put_account(account: &FolderAccount, page: &mut Page) {
    let mut wrong: Vec<String> = account.faults.iter().map(ToString::to_string).collect();
    let more = account.wrong().saturating_sub(account.faults.len());
    if more > 0 {
        wrong.push(format!("and {} more", counted(more, "file")));
    }
    page.headed_list("Files to look at", wrong);
    page.text(account_line(account));
}

/// How many files there are, and what they are.
pub fn account_line(account: &FolderAccount) -> String {
    let part = |n: usize, what: &str| (n > 0).then(|| format!("{n} {what}"));
    let understood = match account.renamed {
        0 => format!("{} understood", account.understood),
        renamed => format!("{} understood ({renamed} under another name)", account.understood),
    };
    let more = account.others.saturating_sub(account.named.len());
    let named = list(account.named.iter().cloned().chain(part(more, "more")), "and");
    let others = part(account.others, "other").map(|others| format!("{others} ({named})"));
    let parts =
        [Some(understood), part(account.not_understood, "not"), part(account.twice, "there twice"), others];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    format!("{}: {}.", counted(account.files, "file"), parts.join(", "))
}

fn row(glance: &Glance) -> Row {
    let place = [non_empty(list(&glance.tanks, "and")), glance.site.clone()];
    let place = place.into_iter().flatten().collect::<Vec<_>>().join(", ");
    let invented = if glance.demo { " (invented)" } else { "" };
    let typed = if glance.transcribed { " (typed in)" } else { "" };
    let mended = if glance.mended.is_some() { " (mended)" } else { "" };
    Row::new([
        glance.id.clone(),
        glance.started.date(),
        on_one_line(&glance.title),
        on_one_line(format!("{place}{invented}{typed}{mended}").trim_start()),
        with_findings(outcome_word(glance.outcome), glance.grade, &glance.found),
    ])
}
