//! What was found, the worst first.

use super::RunView;
use crate::clock::Moment;
use crate::record::{Entry, Grade, Phase};
use crate::report::{Page, Row};

impl<'a> RunView<'a> {
    /// The findings that count, the worst first: of those of one step at one tank the last, and none of how
    /// things were found where they were diagnosed anew as left.
    pub(in crate::report) fn findings(&self) -> Vec<&'a Entry> {
        self.all_findings().into_iter().filter(|entry| !self.is_superseded(entry)).collect()
    }

    /// Whether a finding is of how things were found, and they were diagnosed anew as left.
    fn is_superseded(&self, entry: &Entry) -> bool {
        let left = |other: &&Entry| {
            other.is_of_diagnosis()
                && other.phase == Some(Phase::Left)
                && other.tank == entry.tank
                && other.n > entry.n
        };
        entry.is_of_diagnosis()
            && entry.phase == Some(Phase::Found)
            && self.entries.iter().any(|entry| left(&&**entry))
    }

    fn all_findings(&self) -> Vec<&'a Entry> {
        let mut last: Vec<&Entry> = Vec::new();
        for entry in self.entries.iter().filter(|entry| entry.grade.is_some()) {
            let of = |it: &Entry| (it.step.clone(), it.tank.clone(), it.take);
            last.retain(|other| of(other) != of(entry));
            last.push(entry);
        }
        last.sort_by_key(|entry| std::cmp::Reverse(entry.grade));
        last
    }

    /// Adds the findings, each with what to do about it, and by when.
    pub(in crate::report) fn put_findings(&self, page: &mut Page) {
        let (superseded, counting): (Vec<_>, Vec<_>) =
            self.all_findings().into_iter().partition(|entry| self.is_superseded(entry));
        // What no longer weighs: nothing is to be done about it.
        let superseded =
            superseded.into_iter().map(|entry| Row::new(["as found", &self.said(entry), "", ""]));
        let rows = counting.into_iter().map(|entry| self.finding_row(entry)).chain(superseded);
        page.headed_table("Findings", &["Grade", "What was found", "What to do next", "By"], rows);
    }

    fn finding_row(&self, entry: &Entry) -> Row {
        let due = entry.due.map(Moment::date).unwrap_or_default();
        Row::new([
            entry.grade.map_or("", Grade::word).to_string(),
            self.said(entry),
            entry.to_do().unwrap_or_default(),
            due,
        ])
    }

    /// What a finding says, after its tank and its name.
    fn said(&self, entry: &Entry) -> String {
        let said = entry.said.clone().unwrap_or_default();
        let tank = entry.tank.as_ref().map(|tank| format!("{}: ", self.steps.called(tank)));
        // A sentence that begins with the name needs no name before it.
        let begins = |name: &&String| said.to_lowercase().starts_with(&name.to_lowercase());
        let name = entry.given.as_ref().filter(|name| !begins(name)).map(|name| format!("{name}. "));
        crate::words::capitalized(&[tank, name, Some(said)].into_iter().flatten().collect::<String>())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Units;
    use crate::record::{Contents, EntryKind, Header};
    use crate::report::to_text;

    fn finding(n: u64, kind: EntryKind, (step, tank): (&str, &str), grade: Grade, name: &str) -> Entry {
        Entry {
            n,
            tank: Some(tank.to_string()).filter(|tank| !tank.is_empty()),
            grade: Some(grade),
            given: Some(name.to_string()),
            said: Some("It was seen.".to_string()),
            next: Some("Look again.".to_string()),
            due: Some(Moment::parse("2031-05-05T09:00:00-05:00").unwrap()),
            ..Entry::new(kind, step, Moment::parse("2031-04-05T09:00:00-05:00").unwrap())
        }
    }

    fn header() -> Header {
        Header {
            id: "20310405-0900-check".to_string(),
            program: "tankhand".to_string(),
            procedure: "check".to_string(),
            title: "Check".to_string(),
            started: Moment::parse("2031-04-05T09:00:00-05:00").unwrap(),
            units: Units::Us,
            site: None,
            tank: None,
            tanks: Vec::new(),
            demo: false,
            practice: None,
            transcribed: None,
            without: Vec::new(),
            mended: None,
            texts: Vec::new(),
        }
    }

    /// A later round's finding stands in place of the earlier one, for each tank.
    #[test]
    fn the_worst_finding_stands_first() {
        use EntryKind::{Finding, Stopped};
        let entries = vec![
            finding(1, Finding, ("low", "a"), Grade::Act, "torn"),
            finding(2, Finding, ("low", "a"), Grade::Note, "slow"),
            finding(3, Finding, ("low", "b"), Grade::Attention, "low"),
            Entry { next: None, due: None, ..finding(4, Stopped, ("end", ""), Grade::Stop, "leak") },
        ];
        let contents = Contents { header: header(), entries, foreign: Vec::new(), summary: None, torn: None };
        let mut page = Page::default();
        RunView::new(&contents, None).put_findings(&mut page);
        assert_eq!(
            to_text(&page, 80),
            [
                "Findings",
                "--------",
                "",
                "Grade      What was found              What to do next  By",
                "---------  --------------------------  ---------------  ----------",
                "stop       Leak. It was seen.",
                "attention  Tank b: low. It was seen.   Look again.      2031-05-05",
                "note       Tank a: slow. It was seen.  Look again.      2031-05-05",
            ]
        );
    }
}
