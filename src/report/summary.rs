//! What came of a run, on one page: found, done, left; checks, gaps and what is not certified.

use super::run_view::RunView;
use super::wording::{lacks, outcome_words, typed_in, verdict_words, when, with_findings};
use super::{Page, Row};
use crate::procedure::part_name;
use crate::quantity::{CONFIDENCE, Verdict, show_number};
use crate::record::{Entry, Phase, TextRole};
use crate::words::{counted, list, non_empty};

/// What a record does not say, at the end of every summary.
const NOT_CERTIFIED: &str = "This record tells what was measured, with the gauges named in it. It does not \
certify the tank, the water or the wiring. Local codes, and licensed electricians, plumbers and pump installers, \
decide where they apply.";

/// What a person sees right after a run, and at the head of a record shown later: how it ended,
/// what was found, done and left, every check, what was skipped and what could not be told.
pub fn summary_page(run: &RunView<'_>) -> Page {
    let mut page = Page::titled(&run.contents.header.title);
    let (header, ended) = (&run.contents.header, run.contents.summary.as_ref());
    let particulars = [("Record", Some(header.id.clone()))]
        .into_iter()
        .chain(run.occasion())
        .chain([("Ended", ended.map(|end| when(end.at))), ("Own files", run.own_files())])
        .chain(header.without.iter().map(|left| ("Left out", Some(left.clone()))))
        .chain([
            ("Outcome", Some(run.outcome())),
            ("Checks go by", run.unusual_confidence()),
            ("In words", ended.map(|end| end.words.clone()).filter(|words| !words.is_empty())),
        ]);
    page.table(&[], Row::led_by(particulars));
    let invented = "The installation is invented, and so is every reading: a demonstration.";
    run.origin(invented).into_iter().for_each(|origin| page.note(origin));
    run.put_findings(&mut page);
    let phases =
        [(Phase::Before, "Before"), (Phase::Found, "Found"), (Phase::Done, "Done"), (Phase::Left, "Left")];
    for (tells, heading) in phases {
        page.headed_table(heading, &[], run.telling(tells));
    }
    if run.steps.procedure.is_none() {
        page.headed_table("Answers", &[], run.answers());
    }
    page.headed_table("Checks", &["Check", "Verdict", "What was told"], run.verdicts());
    run.put_open(&mut page);
    page.headed_list("Warnings shown", run.warnings_in_short());
    run.put_gaps(&mut page);
    page.note(NOT_CERTIFIED);
    page
}

impl RunView<'_> {
    /// What kind of record it is, where it was not made as the work went on; of one that is invented in these words.
    pub(super) fn origin(&self, invented: &str) -> Vec<String> {
        let header = &self.contents.header;
        let demo = header.demo.then(|| invented.to_string());
        let typed = header.transcribed.map(|at| format!("Typed in {}.", typed_in(at)));
        [demo, typed, header.mended.as_ref().map(lacks)].into_iter().flatten().collect()
    }

    /// The owner's own files that the run was made with, in place of those that came with the program.
    pub(super) fn own_files(&self) -> Option<String> {
        let own = self.contents.header.texts.iter().filter_map(|text| match text.role {
            TextRole::OwnProcedure => Some("the procedure itself"),
            TextRole::OwnPart => Some(part_name(&text.name)),
            TextRole::Procedure | TextRole::Part | TextRole::System => None,
        });
        non_empty(list(own, "and"))
    }

    /// The probability the checks went by, where it was not the usual one.
    pub(super) fn unusual_confidence(&self) -> Option<String> {
        let by_system = self.kept_system().and_then(|system| system.confidence);
        let asked = [self.steps.procedure.and_then(|p| p.confidence), by_system];
        let confidence = asked.into_iter().flatten().reduce(f64::max)?;
        let usual = (confidence - CONFIDENCE).abs() < 1e-9;
        (!usual).then(|| format!("a probability of {} %", show_number(100.0 * confidence, 0.0)))
    }

    /// The outcome, with the checks that failed or could not tell.
    fn outcome(&self) -> String {
        let outcome = outcome_words(self.contents.summary.as_ref().map(|summary| summary.outcome));
        let mut parts = vec![match &self.contents.summary {
            Some(end) => with_findings(outcome, end.grade, &end.found),
            None => outcome.to_string(),
        }];
        for (verdict, word) in [(Verdict::Fail, "failed"), (Verdict::Unsure, "could not tell")] {
            match self.checks_that(verdict).count() {
                0 => {}
                n => parts.push(format!("{} {word}", counted(n, "check"))),
            }
        }
        parts.join("; ")
    }

    fn verdicts(&self) -> Vec<Row> {
        let row = |entry: &&Entry| {
            let verdict = verdict_words(entry).unwrap_or_default();
            // Without the procedure the comparison itself is all there is to tell.
            let asked = || entry.asked.clone().filter(|_| self.steps.placed.is_empty()).unwrap_or_default();
            Row::new([self.steps.label_of(entry), verdict, entry.message().unwrap_or_else(asked)])
        };
        self.checks.iter().map(row).collect()
    }
}
