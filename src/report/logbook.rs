//! The logbook: every tank there is a record of, how it was left, and what is due; and the days that are due as
//! a calendar (RFC 5545).

use super::finding::first_sentence;
use super::run_view::{RunView, is_about};
use super::{Figure, Page, Row};
use crate::clock::Moment;
use crate::engine::NEXT_TEST;
use crate::record::{Entry, Grade, Phase, observed};
use crate::report::answers::amount;
use crate::words::capitalized;

/// What the newest closed record of a tank says of it.
#[derive(Clone, Debug)]
pub struct LogbookTank {
    /// The record.
    pub id: String,
    /// Its tank and place.
    pub name: String,
    /// When the work was done.
    pub at: Moment,
    /// What weighs worst, in a few words.
    pub found: String,
    /// The precharge as left, else as found.
    pub precharge: String,
    /// The drawdown as left, else as found.
    pub drawdown: String,
    /// What is due, each with its day.
    pub due: Vec<Due>,
    /// Its precharge over the years, where there is more than one visit.
    pub figure: Option<Figure>,
}

/// Something to do by a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Due {
    /// By when.
    pub by: Moment,
    /// What was found, in a few words.
    pub what: String,
    /// What to do.
    pub next: String,
}

impl LogbookTank {
    /// What a closed record says of one of its tanks.
    pub fn of(run: &RunView<'_>, tank: Option<&str>, figure: Option<Figure>) -> LogbookTank {
        let header = &run.contents.header;
        let entries = run.entries_about(tank);
        let seen = |name: &str| {
            let phase = |phase| observed(&entries, name, Some(phase));
            let entry = phase(Phase::Left).or_else(|| phase(Phase::Found));
            // What was measured of all tanks together is not of this one.
            let of_all = tank.is_some() && entry.is_some_and(|entry| entry.tank.is_none());
            let shown = entry.and_then(amount).unwrap_or_default();
            if of_all { format!("{shown}\nall tanks") } else { shown }
        };
        let place = [run.tank_called(tank), header.site.clone()];
        LogbookTank {
            id: header.id.clone(),
            name: capitalized(&place.into_iter().flatten().collect::<Vec<_>>().join(", ")),
            at: header.started,
            found: worst(run, tank)
                .map_or("nothing".to_string(), |(grade, what)| format!("{}: {what}", grade.word())),
            precharge: seen("precharge"),
            drawdown: seen("drawdown"),
            due: Due::of(run, tank),
            figure,
        }
    }

    /// The same with what else is due: by other records, by the trend of its air. The first day stands first.
    pub fn also_due(mut self, more: impl IntoIterator<Item = Due>) -> LogbookTank {
        self.due.extend(more);
        self.due.sort_by_key(|due| due.by.unix_seconds());
        self.due.dedup_by(|a, b| (a.by.date(), &a.what) == (b.by.date(), &b.what));
        self
    }
}

/// What weighs worst of what was found at a tank, a check that no finding speaks for too.
fn worst(run: &RunView<'_>, tank: Option<&str>) -> Option<(Grade, String)> {
    let about = |entry: &&Entry| is_about(tank, entry);
    let findings = run.findings();
    let checks = run
        .unspoken_checks(&findings)
        .into_iter()
        .filter(|(grade, check)| *grade >= Grade::Attention && about(check));
    let checks = checks.map(|(grade, check)| (grade, first_sentence(&run.check_in_words(check))));
    let found = findings.iter().copied().filter(about).filter_map(|entry| {
        let said = entry.said.as_deref().map(first_sentence);
        Some((entry.grade?, entry.given.clone().or(said).unwrap_or_default()))
    });
    // Of two that weigh alike the finding counts.
    checks.chain(found.rev()).max_by_key(|(grade, _)| *grade)
}

impl Due {
    /// What a record says is due at one of its tanks.
    pub fn of(run: &RunView<'_>, tank: Option<&str>) -> Vec<Due> {
        let due = |entry: &Entry| {
            let next = entry.to_do().unwrap_or_default();
            Some(Due {
                by: entry.due?,
                what: capitalized(entry.given.as_deref().unwrap_or("look again")),
                // Its day stands beside it.
                next: capitalized(next.strip_prefix("On the day below, ").unwrap_or(&next)),
            })
        };
        run.findings().into_iter().filter(|entry| is_about(tank, entry)).filter_map(due).collect()
    }

    /// The work in a few words: the first sentence of what to do.
    fn work(&self) -> String {
        let next = self.next.strip_prefix(NEXT_TEST).unwrap_or(&self.next);
        let first = next.split_inclusive(['.', ':', ';']).next().unwrap_or_default();
        let first = first.trim_end_matches(['.', ':', ';']);
        if first.is_empty() { self.what.clone() } else { capitalized(first) }
    }
}

/// Every tank on one page.
pub fn logbook_page(tanks: &[LogbookTank]) -> Page {
    let mut page = Page::titled("Logbook");
    if tanks.is_empty() {
        page.text("No closed record names a tank yet. `tankhand run flush` begins one.");
        return page;
    }
    let row = |tank: &LogbookTank| {
        let due = tank.due.first().map(|due| due.by.date()).unwrap_or_default();
        let name = format!("{}\n{}", tank.name, capitalized(&tank.found));
        Row::new([&name, &tank.at.date(), &tank.precharge, &tank.drawdown, &due])
    };
    let head = ["Tank, and what was found", "Last visit", "Precharge", "Drawdown", "Next due"];
    page.table(&head, tanks.iter().map(row));
    let mut due: Vec<(&LogbookTank, &Due)> =
        tanks.iter().flat_map(|tank| tank.due.iter().map(move |due| (tank, due))).collect();
    due.sort_by_key(|(_, due)| due.by.unix_seconds());
    // What one record asks for at several tanks is one thing to do.
    let mut rows: Vec<([String; 3], String)> = Vec::new();
    for (tank, due) in due {
        let of = [due.by.date(), format!("{}. {}", due.what, due.next), tank.id.clone()];
        match rows.iter_mut().find(|(other, _)| *other == of) {
            Some((_, tanks)) => *tanks = format!("{tanks}\n{}", tank.name),
            None => rows.push((of, tank.name.clone())),
        }
    }
    let row = |([day, what, id], tanks): &([String; 3], String)| {
        Row::new([day.clone(), format!("{tanks}\n{what} Record {id}.")])
    };
    page.headed_table("What is due", &["By", "Tank, and what to do"], rows.iter().map(row));
    if tanks.iter().any(|tank| tank.figure.is_some()) {
        page.heading("Precharge over the years");
        page.figures(tanks.iter().filter_map(|tank| tank.figure.clone()));
    }
    page
}

/// What is due as a calendar that other programs take, one all-day event each.
pub fn calendar(tanks: &[LogbookTank]) -> String {
    let mut lines =
        ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//tankhand//logbook//EN"].map(str::to_string).to_vec();
    for tank in tanks {
        for of_day in tank.due.chunk_by(|a, b| a.by.date() == b.by.date()) {
            lines.extend(event(tank, of_day));
        }
    }
    lines.push("END:VCALENDAR".to_string());
    lines.iter().map(|line| folded(line) + "\r\n").collect()
}

/// What is due at one tank on one day.
fn event(tank: &LogbookTank, due: &[Due]) -> Vec<String> {
    let day = due.first().map(|due| due.by.date().replace('-', "")).unwrap_or_default();
    let name: String = tank.name.chars().filter(char::is_ascii_alphanumeric).collect();
    let works: Vec<String> = due.iter().map(Due::work).collect();
    let says: Vec<String> = due.iter().map(|due| format!("{}. {}", due.what, due.next)).collect();
    [
        "BEGIN:VEVENT".to_string(),
        format!("UID:{}-{day}-{name}@tankhand", tank.id),
        format!("DTSTAMP:{}", tank.at.utc()),
        format!("DTSTART;VALUE=DATE:{day}"),
        format!("SUMMARY:{}", escaped(&format!("{}: {}", tank.name, works.join("; ")))),
        format!("DESCRIPTION:{}", escaped(&format!("{} Record {}.", says.join(" "), tank.id))),
        "TRANSP:TRANSPARENT".to_string(),
        "END:VEVENT".to_string(),
    ]
    .into()
}

/// A text as a value (RFC 5545, 3.3.11).
fn escaped(text: &str) -> String {
    let text = crate::words::harmless(text).replace('\\', "\\\\").replace(';', "\\;").replace(',', "\\,");
    text.trim().replace('\n', "\\n")
}

/// A line broken so that none has more than 75 octets (RFC 5545, 3.1).
fn folded(line: &str) -> String {
    let mut folded = String::new();
    let mut octets = 0;
    for c in line.chars() {
        if octets + c.len_utf8() > 75 {
            folded.push_str("\r\n ");
            octets = 1;
        }
        folded.push(c);
        octets += c.len_utf8();
    }
    folded
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_folded_and_escaped_as_calendars_want_it() {
        assert_eq!(escaped("soap; wait,\nlook\\"), "soap\\; wait\\,\\nlook\\\\");
        let long = folded(&"ä".repeat(60));
        assert!(long.split("\r\n").all(|line| line.len() <= 75), "{long}");
        assert_eq!(long.replace("\r\n ", ""), "ä".repeat(60));
    }
}
