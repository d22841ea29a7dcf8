//! What was found, the worst first.

use super::RunView;
use crate::record::{Entry, EntryKind, Grade};
use crate::report::{Page, Row};

impl<'a> RunView<'a> {
    /// The findings that count, the worst first: of those of one step at one tank the last.
    pub(in crate::report) fn findings(&self) -> Vec<&'a Entry> {
        let mut last: Vec<&Entry> = Vec::new();
        let found = |entry: &&&Entry| matches!(entry.kind, EntryKind::Finding | EntryKind::Stopped);
        for entry in self.entries.iter().filter(found).filter(|entry| entry.grade.is_some()) {
            last.retain(|other| (&other.step, &other.tank) != (&entry.step, &entry.tank));
            last.push(entry);
        }
        last.sort_by_key(|entry| std::cmp::Reverse(entry.grade));
        last
    }

    /// Adds the findings, each with what to do about it, and by when.
    pub(in crate::report) fn put_findings(&self, page: &mut Page) {
        let rows = self.findings().into_iter().map(row).collect();
        page.headed_table("Findings", &["Grade", "What was found", "What to do next", "By"], rows);
    }
}

fn row(entry: &Entry) -> Row {
    let said = entry.said.clone().unwrap_or_default();
    let tank = entry.tank.as_ref().map(|tank| format!("Tank {tank}: "));
    let name = entry.given.as_ref().map(|name| format!("{name}. "));
    let due = entry.due.map(|due| due.date()).unwrap_or_default();
    let found = [tank, name, Some(said)].into_iter().flatten().collect::<String>();
    let found = crate::report::wording::sentence(&found);
    Row::new([
        entry.grade.map_or("", Grade::word).to_string(),
        found,
        entry.next.clone().unwrap_or_default(),
        due,
    ])
}
