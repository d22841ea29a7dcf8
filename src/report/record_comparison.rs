//! Two records side by side: what was found and left each time, and what was concluded.

use super::finding::{FindingLine, number_rows};
use super::run_view::RunView;
use super::{Page, Row};
use crate::record::Grade;

/// Two records of one tank, or of two, beside each other; the one named first stands first.
pub fn record_comparison_page(first: &RunView<'_>, second: &RunView<'_>) -> Page {
    let mut page = Page::titled("Two records compared");
    let both = [first, second];
    let [a, b] = both.map(|run| run.contents.header.id.clone());
    let head = [format!("1: {a}"), format!("2: {b}")];
    let head = ["", head[0].as_str(), head[1].as_str()];
    let about = |word: &str, of: &dyn Fn(&RunView<'_>) -> String| {
        let [a, b] = both.map(of);
        Row::new([word.to_string(), a, b])
    };
    let rows = vec![
        about("Work", &|run| run.report_title()),
        about("Day", &|run| run.contents.header.started.date()),
        about("Place", &|run| run.contents.header.site.clone().unwrap_or_default()),
        about("Tank", &|run| {
            run.tanks_in_turn().into_iter().map(|tank| run.tank_line(tank)).collect::<Vec<_>>().join("\n")
        }),
        about("Outcome", &|run| run.in_short(&run.finding_lines())),
        about("Findings", &findings),
    ];
    page.table(&head, rows);
    let places = both.map(|run| (&run.contents.header.site, tanks(run)));
    if places[0] != places[1] {
        page.note("The records are not of the same tank at the same place.");
    }
    let head = ["", "1: found", "1: left", "2: found", "2: left"];
    page.headed_table("Numbers", &head, numbers(first, second));
    page.text("± covers 95 %. What one gauge is off by is the same each time, so that differences are known better than these limits say.");
    page
}

/// The tanks a record is of.
fn tanks<'r>(run: &RunView<'r>) -> Vec<&'r String> {
    let header = &run.contents.header;
    header.tank.iter().chain(&header.tanks).collect()
}

fn findings(run: &RunView<'_>) -> String {
    let lines = run.finding_lines();
    let line = |line: &FindingLine| format!("{}: {}", Grade::word(line.grade).to_uppercase(), line.named());
    lines.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// The numbers of both, a row for each thing that either tells of.
fn numbers(first: &RunView<'_>, second: &RunView<'_>) -> Vec<Row> {
    let [first, second] = [first, second].map(number_rows);
    let cells = |rows: &[Row], key: &str| {
        let row = rows.iter().find(|row| what(row) == key);
        [1, 2].map(|at| row.map_or_else(String::new, |row| row.cells[at].clone()))
    };
    let mut keys: Vec<String> = Vec::new();
    for row in first.iter().chain(&second) {
        let key = what(row);
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    let row = |key: String| {
        let cells = [&first, &second].map(|rows| cells(rows, &key)).concat();
        Row::new(std::iter::once(key).chain(cells))
    };
    keys.into_iter().map(row).collect()
}

/// What a row is of, without the temperature or the time of that day.
fn what(row: &Row) -> String {
    let parts = row.cells[0].split(", ").filter(|part| !part.contains('°')).enumerate();
    let plain = |(at, part): (usize, &'_ str)| match (at, part.split_once(" in ")) {
        (0, Some((what, _))) => what.to_string(),
        _ => part.to_string(),
    };
    parts.map(plain).collect::<Vec<_>>().join(", ")
}
