//! What came of a run, on one page: found, done, left; checks, gaps and what is not certified.

pub(super) mod effective_entries;
mod gaps;

use self::effective_entries::EffectiveEntries;
use super::wording::{outcome_words, typed_in, when};
use super::{Page, Row};
use crate::procedure::{Procedure, Tells};
use crate::quantity::{CONFIDENCE, Verdict, show_number};
use crate::record::{Contents, TextRole};
use crate::source::SourceText;
use crate::system::load;
use crate::words::{counted, list};

/// What a record does not say, at the end of every summary.
pub(super) const NOT_CERTIFIED: &str = "This record tells what was measured, with the gauges named in it. It does not \
certify the tank, the water or the wiring. Local codes, and licensed electricians, plumbers and pump installers, \
decide where they apply.";

/// Said of a record of an invented installation.
pub(super) const INVENTED: &str = "The installation is invented, and so is every reading: a demonstration.";

/// What a person sees right after a run, and at the head of a record shown later: how it ended,
/// what was found, done and left, every check, what was skipped and what could not be told.
///
/// Labels and headings come from the procedure; without it every answer is listed by its id.
pub fn summary_page(contents: &Contents, procedure: Option<&Procedure>) -> Page {
    let effective = EffectiveEntries::new(contents, procedure);
    let mut page = Page::titled(&contents.header.title);
    page.table(&[], effective.particulars());
    if contents.header.demo {
        page.note(INVENTED);
    }
    if let Some(typed) = contents.header.transcribed {
        page.note(format!("Typed in {}.", typed_in(typed)));
    }
    match procedure {
        Some(_) => {
            for (tells, heading) in [(Tells::Found, "Found"), (Tells::Done, "Done"), (Tells::Left, "Left")] {
                page.headed_table(heading, &[], effective.telling(tells));
            }
        }
        None => page.headed_table("Answers", &[], effective.all()),
    }
    page.headed_table("Checks", &["Check", "Verdict", "What was told"], effective.checks());
    page.headed_list("Skipped, with reasons", effective.skipped());
    page.headed_list("Not tested or not told", effective.not_reported());
    page.headed_list("Remarks", effective.remarks());
    page.headed_list("Warnings read", effective.warnings_in_short());
    for gap in effective.gaps() {
        page.note(gap);
    }
    page.note(NOT_CERTIFIED);
    page
}

/// How many checks that count failed: of those in a loop the last round's.
pub fn checks_failed(contents: &Contents, procedure: Option<&Procedure>) -> usize {
    let effective = EffectiveEntries::new(contents, procedure);
    effective.last_checks().iter().filter(|check| check.verdict == Some(Verdict::Fail)).count()
}

impl EffectiveEntries<'_> {
    pub fn particulars(&self) -> Vec<Row> {
        let header = &self.contents.header;
        let summary = self.contents.summary.as_ref();
        let mut rows = vec![Row::new(["Record", &header.id])];
        let mut row = |word: &str, text: Option<String>| {
            rows.extend(text.map(|text| Row::new([word.to_string(), text])));
        };
        row("Site", header.site.clone());
        row("Tank", header.tank.clone());
        row("Tanks", (!header.tanks.is_empty()).then(|| list(&header.tanks, "and")));
        row("Begun", Some(when(header.started)));
        row("Ended", summary.map(|summary| when(summary.at)));
        row("Own parts", self.own_parts());
        row("Outcome", Some(self.outcome()));
        row("Checks go by", self.unusual_confidence());
        row("In words", summary.map(|summary| summary.words.clone()).filter(|words| !words.is_empty()));
        rows
    }

    /// The owner's own parts that the run was made with.
    fn own_parts(&self) -> Option<String> {
        let own = self.contents.header.texts.iter().filter(|text| text.role == TextRole::OwnPart);
        let names: Vec<&str> = own.map(|text| text.name.as_str()).collect();
        (!names.is_empty()).then(|| list(&names, "and"))
    }

    /// The probability the checks went by, where it was not the usual one.
    fn unusual_confidence(&self) -> Option<String> {
        let texts = &self.contents.header.texts;
        let system = texts.iter().find(|text| text.role == TextRole::System);
        let system =
            system.and_then(|kept| load(&SourceText::new(kept.name.as_str(), kept.text.to_string())).ok());
        let asked = [self.steps.procedure.and_then(|p| p.confidence), system.and_then(|s| s.confidence)];
        let confidence = asked.into_iter().flatten().reduce(f64::max)?;
        let usual = (confidence - CONFIDENCE).abs() < 1e-9;
        (!usual).then(|| format!("a probability of {} %", show_number(100.0 * confidence, 0.0)))
    }

    /// The outcome, with the checks that failed or could not tell.
    fn outcome(&self) -> String {
        let outcome = outcome_words(self.contents.summary.as_ref().map(|summary| summary.outcome));
        let count =
            |verdict| self.last_checks().iter().filter(|check| check.verdict == Some(verdict)).count();
        let mut parts = vec![outcome.to_string()];
        match count(Verdict::Fail) {
            0 => {}
            n => parts.push(format!("{} failed", counted(n, "check"))),
        }
        match count(Verdict::Unsure) {
            0 => {}
            n => parts.push(format!("{} could not tell", counted(n, "check"))),
        }
        parts.join("; ")
    }
}
