//! The report of a record: what a buyer, an inspector or the next owner reads.
//!
//! The page is built here as values; [`to_html`](super::to_html) and [`to_text`](super::to_text)
//! lay it out. Labels, pairs and figures come from what the procedure says of its steps, so that
//! an owner's own procedure gets the same report.

mod checks;
mod closing;
mod curve;
mod decay;
mod figures;
mod hold;
mod installation;
mod pairs;
mod readings;
mod source;

use super::summary::effective_entries::EffectiveEntries;
use super::summary::{INVENTED, NOT_CERTIFIED};
use super::wording::{outcome_words, sentence, typed_in, when};
use super::{Page, PageBlock};
use crate::procedure::Tells;
use crate::quantity::Verdict;
use crate::record::Outcome;
use crate::words::counted;

pub(super) use pairs::{Pairs, pairs};
pub use source::Account;

/// What a record tells, for those who were not there.
pub fn report_page(account: &Account<'_>) -> Page {
    let effective = EffectiveEntries::new(account.contents, account.procedure);
    let mut page = Page::titled(&account.contents.header.title);
    if let Some(broken) = account.broken {
        page.note(format!("BROKEN SEAL: {broken}. Below stands only what was written before that."));
    }
    if account.contents.header.demo {
        page.note(INVENTED);
    }
    if let Some(typed) = account.contents.header.transcribed {
        page.note(format!("Typed in {}.", typed_in(typed)));
    }
    page.blocks.push(PageBlock::Lead(in_short(&effective)));
    if let Some(end) = account.contents.summary.as_ref().filter(|end| end.outcome != Outcome::Completed) {
        page.text(&end.words);
    }
    let particulars = effective
        .particulars()
        .into_iter()
        .filter(|row| !["Outcome", "In words"].contains(&row.cells[0].as_str()));
    page.table(&[], particulars.collect());
    let Pairs { both, found, left } = pairs(&effective);
    let paired = !both.is_empty();
    page.headed_table("As found and as left", &["", "As found", "As left"], both);
    figures::put(account, &effective, &mut page);
    effective.put_checks(account.values, &mut page);
    effective.put_installation(&mut page);
    page.headed_table(if paired { "Also found" } else { "As found" }, &[], found);
    page.headed_table("Done", &[], effective.telling(Tells::Done));
    page.headed_table(if paired { "Also left" } else { "As left" }, &[], left);
    if account.procedure.is_none() {
        page.headed_table("Answers", &[], effective.all());
    }
    effective.put_readings(account.system, &mut page);
    effective.put_gaps(&mut page);
    page.heading("What this record does not certify");
    page.text(NOT_CERTIFIED);
    closing::put(account, &mut page);
    page
}

/// What it comes to: the outcome, the checks, what was left out.
fn in_short(effective: &EffectiveEntries<'_>) -> String {
    let ended = effective.contents.summary.as_ref();
    let outcome = sentence(outcome_words(ended.map(|end| end.outcome)));
    let mut sentences = vec![match ended {
        Some(end) => format!("{outcome}, {}.", when(end.at)),
        None => format!("{outcome}."),
    }];
    let checks = effective.last_checks();
    let count = |verdict| checks.iter().filter(|check| check.verdict == Some(verdict)).count();
    if !checks.is_empty() {
        let (passed, failed, unsure) = (count(Verdict::Pass), count(Verdict::Fail), count(Verdict::Unsure));
        let parts = [(passed, "passed"), (failed, "failed"), (unsure, "could not tell")];
        let parts: Vec<String> =
            parts.iter().filter(|(n, _)| *n > 0).map(|(n, word)| format!("{n} {word}")).collect();
        sentences.push(format!("Of {}: {}.", counted(checks.len(), "check"), parts.join(", ")));
        let failed = checks.iter().filter(|check| check.verdict == Some(Verdict::Fail));
        let failed: Vec<String> = failed.map(|check| effective.steps.label_of(check)).collect();
        if !failed.is_empty() {
            sentences.push(format!("What failed: {}.", failed.join("; ")));
        }
    }
    match effective.skipped().len() {
        0 => {}
        1 => sentences.push("1 step was skipped.".to_string()),
        n => sentences.push(format!("{n} steps were skipped.")),
    }
    sentences.join(" ")
}
