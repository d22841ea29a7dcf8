//! The finding sheet: page one of every report, and what a report comes to in twenty lines.
//!
//! It says what was examined, by whom and when, what was found and what to do about it, the numbers as
//! found and as left, what was not tested, and with which gauges, as ISO/IEC 17025:2017, 7.8.2, asks of
//! a certificate where that fits. It suggests no accreditation.

mod brief;
mod numbers;
mod page;

pub use brief::brief_lines;
pub(super) use page::sheet_page;

use super::answers::answer;
use super::run_view::RunView;
use super::wording::{lacks, outcome_word, typed_in, verdict_words, when};
use crate::record::{Entry, EntryKind, Grade};
use crate::words::{capitalized, counted};

/// What no procedure tests, each with the observable that shows it was tested after all.
const NEVER_TESTED: &[(&str, Option<&str>)] = &[
    ("shell strength", None),
    ("wiring", None),
    ("whether the relief valve opens", None),
    ("the water", Some("lab_result")),
    ("pipes in the house", None),
    ("local code", None),
];
/// What the sheet is, and is not.
const STATES: &str = "This sheet states measurements made with the owner's gauges. It certifies neither tank, \
water nor wiring. Local codes, and licensed electricians, plumbers and pump installers, decide where they apply.";

/// One finding in words.
pub(super) struct FindingLine {
    pub grade: Grade,
    /// What it is called, and of which tank.
    pub name: String,
    /// What was found.
    pub says: String,
    /// What to do next.
    pub next: String,
    /// By when, a day.
    pub by: Option<String>,
}

impl RunView<'_> {
    /// What the report is headed.
    pub(super) fn report_title(&self) -> String {
        let noun = self.steps.procedure.and_then(|procedure| procedure.report.clone());
        noun.unwrap_or_else(|| self.contents.header.title.clone())
    }

    /// The tanks a run took one by one; a single `None` where it is about one tank.
    pub(super) fn tanks_in_turn(&self) -> Vec<Option<&str>> {
        match self.contents.header.tanks.as_slice() {
            [] => vec![None],
            several => several.iter().map(|tank| Some(tank.as_str())).collect(),
        }
    }

    /// The numbers as found and as left, a row each.
    pub(super) fn number_rows(&self) -> Vec<super::Row> {
        numbers::rows(self)
    }

    /// Findings, and the checks that speak against the tank and that no finding speaks for; the worst first.
    pub(super) fn finding_lines(&self) -> Vec<FindingLine> {
        let findings = self.findings();
        let spoken_for = |check: &Entry| {
            let weighty = findings.iter().filter(|entry| entry.grade >= Some(Grade::Attention));
            weighty.flat_map(|entry| &entry.rests_on).any(|step| *step == check.step)
        };
        let unspoken = self.checks.iter().filter(|check| !spoken_for(check));
        let checks = unspoken.filter_map(|check| Some((Grade::of(check.verdict?)?, *check)));
        let checks = checks.map(|(grade, check)| FindingLine {
            grade,
            name: format!("{}: {}", self.steps.label_of(check), verdict_words(check).unwrap_or_default()),
            says: check.message().unwrap_or_default(),
            next: String::new(),
            by: None,
        });
        let mut lines: Vec<FindingLine> =
            findings.iter().map(|entry| self.finding_line(entry)).chain(checks).collect();
        lines.sort_by_key(|line| std::cmp::Reverse(line.grade));
        lines
    }

    fn finding_line(&self, entry: &Entry) -> FindingLine {
        // How things stand where the work was stopped is told above all findings.
        let has_next = entry.kind != EntryKind::Stopped || self.stands.is_empty();
        let tank = entry.tank.as_ref().map(|tank| format!("tank {tank}: ")).unwrap_or_default();
        FindingLine {
            grade: entry.grade.unwrap_or(Grade::Note),
            name: capitalized(&format!("{tank}{}", entry.given.as_deref().unwrap_or_default())),
            says: entry.said.clone().unwrap_or_default(),
            next: entry.to_do().filter(|_| has_next).unwrap_or_default(),
            by: entry.due.map(crate::clock::Moment::date),
        }
    }

    /// What it all came to, in a sentence or three.
    pub(super) fn in_short(&self, findings: &[FindingLine]) -> String {
        let ended = self.contents.summary.as_ref().map(|end| end.outcome);
        let mut words = vec![format!("{}.", outcome_word(ended).to_uppercase())];
        let worst = findings.first().map(|line| line.grade).filter(|grade| *grade >= Grade::Attention);
        words.push(match worst {
            None => "Nothing that was tested needs attention.".to_string(),
            Some(Grade::Stop) => "The work was stopped.".to_string(),
            Some(grade) => {
                let of_it: Vec<&FindingLine> = findings.iter().filter(|line| line.grade == grade).collect();
                let soonest = of_it.iter().filter_map(|line| line.by.as_deref()).min();
                let by = soonest.map(|day| format!(" by {day}")).unwrap_or_default();
                let what = if grade == Grade::Act { "Action" } else { "Attention" };
                format!("{what} is needed{by}: {}.", counted(of_it.len(), "finding"))
            }
        });
        words.join(" ")
    }

    /// How things stand at the end, by what the steps did.
    pub(super) fn left_as(&self) -> String {
        match self.stands.as_slice() {
            [] => String::new(),
            stands => format!(" As the steps left it: {}.", stands.join(", ")),
        }
    }

    /// The tank in a line: kind, volume, marks, limit, as far as the record tells.
    pub(super) fn tank_line(&self, tank: Option<&str>) -> String {
        let told = |name: &str| {
            let own = |entry: &&&Entry| {
                entry.observes.as_deref() == Some(name) && super::tag::is_about(tank, entry)
            };
            let entry = self.entries.iter().filter(|entry| !entry.kind.is_aside()).rfind(own);
            entry.filter(|entry| entry.value.is_some() || entry.given.is_some()).map(|entry| answer(entry))
        };
        let mut parts: Vec<String> =
            self.fact_from("tank.name", tank).or_else(|| tank.map(ToString::to_string)).into_iter().collect();
        parts.extend(told("tank_kind"));
        parts.extend(told("plate_volume"));
        parts.extend(
            told("marking").filter(|marks| !parts.contains(marks)).map(|marks| format!("plate: {marks}")),
        );
        parts.extend(told("plate_limit").map(|limit| format!("plate limit {limit}")));
        parts.join(", ")
    }

    /// When it was made, and by whom as far as somebody wrote it down.
    pub(super) fn made(&self) -> (String, Option<String>) {
        let begun = self.contents.header.started;
        let ended = self.contents.summary.as_ref().map(|end| end.at);
        let to = ended.map(|end| match end.date() == begun.date() {
            true => end.time_of_day(),
            false => when(end),
        });
        let time = to.map_or_else(|| when(begun), |to| format!("{} to {to}", when(begun)));
        let who =
            self.of_kind(EntryKind::Text).filter(|entry| entry.observes.as_deref() == Some("remark")).last();
        (time, who.map(answer))
    }

    /// What kind of record it is, where it is not the plain one.
    pub(super) fn origin(&self) -> Vec<String> {
        let header = &self.contents.header;
        let demo = header
            .demo
            .then(|| "INVENTED, for demonstration: the installation and every reading.".to_string());
        let typed = header.transcribed.map(|at| format!("Typed in {}.", typed_in(at)));
        [demo, typed, header.mended.as_ref().map(lacks)].into_iter().flatten().collect()
    }

    /// What nobody looked at.
    pub(super) fn not_tested(&self) -> Vec<String> {
        let seen = |name: &str| self.entries.iter().any(|entry| entry.observes.as_deref() == Some(name));
        let never = NEVER_TESTED.iter().filter(|(_, unless)| !unless.is_some_and(seen));
        let never = never.map(|(what, _)| (*what).to_string());
        self.skipped().into_iter().map(|what| format!("{what} (skipped)")).chain(never).collect()
    }
}
