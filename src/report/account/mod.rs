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
mod readings;

pub use closing::RecordSeals;

use super::run_view::{Pairs, RunView};
use super::summary::NOT_CERTIFIED;
use super::wording::{outcome_words, when, with_findings};
use super::{Page, PageBlock};
use crate::quantity::Verdict;
use crate::record::Outcome;
use crate::record::Phase;
use crate::words::capitalized;
use crate::words::counted;

/// What a record tells, for those who were not there.
pub fn report_page(run: &RunView<'_>, seals: &RecordSeals<'_>) -> Page {
    let mut page = Page::titled(&run.contents.header.title);
    if let Some(broken) = seals.broken {
        page.note(format!("BROKEN SEAL: {broken}. Below stands only what was written before that."));
    }
    run.put_origin(&mut page);
    page.blocks.push(PageBlock::Lead(in_short(run)));
    if let Some(end) = run.contents.summary.as_ref().filter(|end| end.outcome != Outcome::Completed) {
        page.text(&end.words);
    }
    run.put_findings(&mut page);
    page.table(&[], run.particulars([("Checks go by", run.unusual_confidence())]));
    let Pairs { both, found, left } = run.pairs();
    let paired = !both.is_empty();
    page.headed_table("As found and as left", &["", "As found", "As left"], both);
    figures::put(run, &mut page);
    run.put_checks(&mut page);
    run.put_installation(&mut page);
    page.headed_table("At an earlier visit", &[], run.telling(Phase::Before));
    page.headed_table(if paired { "Also found" } else { "As found" }, &[], found);
    page.headed_table("Done", &[], run.telling(Phase::Done));
    page.headed_table(if paired { "Also left" } else { "As left" }, &[], left);
    if run.steps.procedure.is_none() {
        page.headed_table("Answers", &[], run.answers());
    }
    run.put_readings(&mut page);
    run.put_open(&mut page);
    run.put_warnings(&mut page);
    run.put_gaps(&mut page);
    page.heading("What this record does not certify");
    page.text(NOT_CERTIFIED);
    closing::put(run, seals, &mut page);
    page
}

/// What it comes to: the outcome, the checks, what was left out.
fn in_short(run: &RunView<'_>) -> String {
    let ended = run.contents.summary.as_ref();
    let outcome = capitalized(outcome_words(ended.map(|end| end.outcome)));
    let mut sentences = vec![match ended {
        Some(end) => with_findings(&format!("{outcome}, {}", when(end.at)), end.grade, &end.found) + ".",
        None => format!("{outcome}."),
    }];
    if !run.checks.is_empty() {
        let verdicts =
            [(Verdict::Pass, "passed"), (Verdict::Fail, "failed"), (Verdict::Unsure, "could not tell")];
        let counts = verdicts.map(|(verdict, word)| (run.checks_that(verdict).count(), word));
        let parts: Vec<String> =
            counts.iter().filter(|(n, _)| *n > 0).map(|(n, word)| format!("{n} {word}")).collect();
        sentences.push(format!("Of {}: {}.", counted(run.checks.len(), "check"), parts.join(", ")));
        let failed: Vec<String> =
            run.checks_that(Verdict::Fail).map(|check| run.steps.label_of(check)).collect();
        if !failed.is_empty() {
            sentences.push(format!("What failed: {}.", failed.join("; ")));
        }
    }
    match run.skipped().len() {
        0 => {}
        1 => sentences.push("1 step was skipped.".to_string()),
        n => sentences.push(format!("{n} steps were skipped.")),
    }
    sentences.join(" ")
}
