//! The finding sheet: page one of every report, and what a report comes to in twenty lines.
//!
//! It says what was examined, by whom and when, what was found and what to do about it, the numbers as
//! found and as left, what was not tested, and with which gauges, as ISO/IEC 17025:2017, 7.8.2, asks of
//! a certificate where that fits. It suggests no accreditation.

mod brief;
mod numbers;
mod page;

pub use brief::{brief_lines, closing_lines, review};
pub(super) use numbers::number_rows;
pub(super) use page::{MOST_WHOLE, sheet_page};

use super::answers::answer;
use super::run_view::{RunView, is_about};
use super::wording::{outcome_word, when};
use crate::quantity::Verdict;
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
    /// What the tank is called, where there are several.
    pub tank: Option<String>,
    /// What it is called; nothing where the sentence is all there is.
    pub name: String,
    /// What was found.
    pub says: String,
    /// What to do next.
    pub next: String,
    /// By when, a day.
    pub by: Option<String>,
}

impl FindingLine {
    /// Everything that is said of it, its tank first.
    fn words(&self) -> String {
        let name = Some(self.name.as_str()).filter(|name| !name.is_empty() && !self.says.starts_with(name));
        let next = Some(self.next.as_str()).filter(|next| !next.is_empty()).map(|next| {
            let is_led = next.starts_with("Next") || self.says.is_empty() && name.is_none();
            if is_led { next.to_string() } else { format!("Next: {next}") }
        });
        let name = name.map(|name| format!("{name}."));
        self.after_tank(&[name.as_deref(), Some(&self.says), next.as_deref(), self.by().as_deref()])
    }

    /// The same in short: its name, else its sentence, and what to do.
    fn in_brief(&self) -> String {
        let said = if self.name.is_empty() { self.says.clone() } else { self.called() };
        let next = Some(self.next.as_str()).filter(|next| *next != said);
        self.after_tank(&[Some(&said), next, self.by().as_deref()])
    }

    /// Its name, the first thing to do, and its day.
    fn in_two_words(&self) -> String {
        let next = if self.name.is_empty() { String::new() } else { first_sentence(&self.next) };
        self.after_tank(&[Some(&self.called()), Some(&next), self.by().as_deref()])
    }

    /// Its name and its day alone.
    fn in_a_word(&self) -> String {
        self.after_tank(&[Some(&self.called()), self.by().as_deref()])
    }

    /// Its tank and its name.
    pub(super) fn named(&self) -> String {
        self.after_tank(&[Some(&self.called())])
    }

    /// Its name; the first sentence where it has none.
    fn called(&self) -> String {
        if self.name.is_empty() { first_sentence(&self.says) } else { format!("{}.", self.name) }
    }

    fn by(&self) -> Option<String> {
        self.by.as_ref().map(|day| format!("By {day}."))
    }

    fn after_tank(&self, parts: &[Option<&str>]) -> String {
        let parts: Vec<&str> = parts.iter().copied().flatten().filter(|part| !part.is_empty()).collect();
        let tank = self.tank.as_ref().map(|tank| format!("{tank}: ")).unwrap_or_default();
        capitalized(&format!("{tank}{}", parts.join(" ")))
    }
}

/// A text up to the end of its first sentence.
pub(super) fn first_sentence(text: &str) -> String {
    text.split_inclusive(". ").next().unwrap_or_default().trim_end().to_string()
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

    /// Findings, and the checks that speak against the tank and that no finding speaks for; the worst first.
    pub(super) fn finding_lines(&self) -> Vec<FindingLine> {
        let findings = self.findings();
        let checks = self.unspoken_checks(&findings).into_iter().map(|(grade, check)| FindingLine {
            grade,
            tank: None,
            name: String::new(),
            says: self.check_in_words(check),
            next: String::new(),
            by: None,
        });
        let mut lines: Vec<FindingLine> =
            findings.iter().map(|entry| self.finding_line(entry)).chain(checks).collect();
        lines.sort_by_key(|line| std::cmp::Reverse(line.grade));
        lines
    }

    /// The checks that speak against the tank and that no finding speaks for.
    pub(super) fn unspoken_checks(&self, findings: &[&Entry]) -> Vec<(Grade, &Entry)> {
        let spoken_for = |check: &Entry| {
            let weighty = findings.iter().filter(|entry| entry.grade >= Some(Grade::Attention));
            weighty.flat_map(|entry| &entry.rests_on).any(|step| *step == check.step)
        };
        let unspoken = self.checks.iter().filter(|check| !spoken_for(check));
        unspoken.filter_map(|check| Some((Grade::of(check.verdict?)?, *check))).collect()
    }

    fn finding_line(&self, entry: &Entry) -> FindingLine {
        // How things stand where the work was stopped is told above all findings.
        let has_next = entry.kind != EntryKind::Stopped || self.stands.is_empty();
        FindingLine {
            grade: entry.grade.unwrap_or(Grade::Note),
            tank: entry.tank.as_ref().map(|tank| self.steps.called(tank)),
            name: capitalized(entry.given.as_deref().unwrap_or_default()),
            says: entry.said.clone().unwrap_or_default(),
            next: entry.to_do().filter(|_| has_next).unwrap_or_default(),
            by: entry.due.map(crate::clock::Moment::date),
        }
    }

    /// A check that does not hold, or could not tell, in a sentence; with its tank, where there are several.
    pub(super) fn check_in_words(&self, check: &Entry) -> String {
        let label = self.steps.label_of(check);
        let message = check.message().filter(|message| message.contains(' '));
        message.unwrap_or_else(|| match check.verdict {
            Some(Verdict::Unsure) => format!("These readings cannot tell whether this holds: {label}."),
            Some(Verdict::Fail | Verdict::Pass) | None => format!("This does not hold: {label}."),
        })
    }

    /// What it all came to, in a sentence or three.
    pub(super) fn in_short(&self, findings: &[FindingLine]) -> String {
        let ended = self.contents.summary.as_ref().map(|end| end.outcome);
        let mut words = vec![format!("{}.", outcome_word(ended).to_uppercase())];
        let worst = findings.first().map(|line| line.grade).filter(|grade| *grade >= Grade::Attention);
        words.push(match worst {
            None if ended.is_none() => "What was found so far decides nothing.".to_string(),
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
        let stated = |name: &str| {
            let own = |entry: &&&Entry| entry.observes.as_deref() == Some(name) && is_about(tank, entry);
            let entry = self.entries.iter().filter(|entry| !entry.kind.is_aside()).rfind(own);
            entry.filter(|entry| entry.value.is_some() || entry.given.is_some()).map(|entry| answer(entry))
        };
        let mut parts: Vec<String> = self.tank_named(tank).into_iter().collect();
        parts.extend(stated("tank_kind"));
        let marks = stated("marking").filter(|marks| !parts.contains(marks));
        let on_plate = |volume: &String| marks.as_ref().is_some_and(|marks| marks.contains(volume.as_str()));
        parts.extend(stated("plate_volume").filter(|volume| !on_plate(volume)));
        parts.extend(marks.map(|marks| format!("plate: {marks}")));
        parts.extend(stated("plate_limit").map(|limit| format!("plate limit {limit}")));
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
        let says_who = |entry: &&Entry| {
            entry.observes.as_deref() == Some("remark") && self.steps.label(&entry.step).starts_with("who")
        };
        let who = self.of_kind(EntryKind::Text).filter(says_who).last();
        // Who did it is asked for first; what else was written stands among the remarks.
        (time, who.map(|entry| first_sentence(&answer(entry))))
    }

    /// What nobody looked at.
    pub(super) fn not_tested(&self) -> Vec<String> {
        self.skipped()
            .into_iter()
            .map(|what| format!("{what} (skipped)"))
            .chain(self.never_tested())
            .collect()
    }

    /// What no procedure tests.
    fn never_tested(&self) -> Vec<String> {
        let seen = |name: &str| self.entries.iter().any(|entry| entry.observes.as_deref() == Some(name));
        let never = NEVER_TESTED.iter().filter(|(_, unless)| !unless.is_some_and(seen));
        never.map(|(what, _)| (*what).to_string()).collect()
    }
}
