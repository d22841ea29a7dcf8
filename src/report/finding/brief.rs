//! What a report comes to, in twenty lines of 80 columns: for an e-mail or a telephone.

use super::FindingLine;
use super::numbers::number_rows;
use crate::record::Grade;
use crate::report::account::RecordSeals;
use crate::report::run_view::RunView;
use crate::report::text::hung;
use crate::report::{Page, Row, to_text};
use crate::words::{capitalized, wrap};

/// How wide the lines are.
const BRIEF_COLUMNS: usize = 80;
/// How many lines there are at most.
const BRIEF_LINES: usize = 20;
/// How many of them findings may take before the record is sealed.
const REVIEW: usize = 10;
/// The columns of a grade beside its finding.
const BESIDE: usize = 11;

/// How much is said of the findings, from all to the least: those of a grade or worse whole, with the first thing
/// to do, in a word; and how many rows of numbers may be left out, of which the last are the least.
const LESS: [([Grade; 3], usize); 7] = [
    ([Grade::Good, Grade::Good, Grade::Good], 0),
    ([Grade::Attention, Grade::Note, Grade::Good], 0),
    ([Grade::Attention, Grade::Attention, Grade::Good], 0),
    ([Grade::Act, Grade::Attention, Grade::Good], 0),
    ([Grade::Act, Grade::Attention, Grade::Good], 3),
    ([Grade::Act, Grade::Act, Grade::Good], 3),
    ([Grade::Act, Grade::Act, Grade::Attention], 4),
];

/// The finding sheet in twenty lines: what it came to, what to do, the numbers, what was not tested.
pub fn brief_lines(run: &RunView<'_>, seals: &RecordSeals) -> Vec<String> {
    let rows = number_rows(run);
    let findings = run.finding_lines();
    let [top, bottom] = [top(run, seals, &findings), bottom(run, seals)];
    let room = BRIEF_LINES.saturating_sub(top.len() + bottom.len());
    let both = |(detail, most): &([Grade; 3], usize)| {
        let shown = shown(&findings, detail);
        let kept = |dropped: usize| numbers(&rows[..rows.len().saturating_sub(dropped)], BRIEF_COLUMNS);
        let fits = |numbers: &Vec<String>| shown.len() + numbers.len() <= room;
        let numbers = (0..=*most).map(kept).find(fits).unwrap_or_else(|| kept(*most));
        (shown, numbers)
    };
    let fits = |(shown, numbers): &(Vec<String>, Vec<String>)| shown.len() + numbers.len() <= room;
    let (shown, numbers) = LESS.iter().map(both).find(fits).unwrap_or_else(|| {
        let (shown, numbers) = both(&LESS[LESS.len() - 1]);
        (as_many(shown, room.saturating_sub(numbers.len())), numbers)
    });
    [top, shown, numbers, bottom].concat()
}

/// What it is of, by whom and when, and what it came to.
fn top(run: &RunView<'_>, seals: &RecordSeals, findings: &[FindingLine]) -> Vec<String> {
    let header = &run.contents.header;
    let broken = seals.broken.as_ref().map(|broken| format!("BROKEN SEAL: {broken}."));
    let invented = if header.demo { " (invented)" } else { "" };
    let site = header.site.as_deref().map(|site| format!(", {site}")).unwrap_or_default();
    let who =
        run.made().1.map(|who| format!(", by {}", within(who.trim_end_matches('.')))).unwrap_or_default();
    let head = format!("{}{site}{invented}, {}{who}.", run.report_title(), header.started.date());
    // The tank with its plate; of several their names.
    let tanks = run.tanks_called().unwrap_or_else(|| run.tank_line(None));
    let tanks = (!tanks.is_empty()).then(|| format!("{}.", capitalized(&tanks)));
    let lines = [broken, Some(head), tanks, Some(run.in_short(findings))].into_iter().flatten();
    lines.flat_map(|line| wrap(&line, BRIEF_COLUMNS, 0)).collect()
}

fn numbers(rows: &[Row], width: usize) -> Vec<String> {
    let mut table = Page::default();
    table.table(&["", "Found", "Left", "Limit or target"], rows.to_vec());
    let mut lines = to_text(&table, width);
    lines.retain(|line| line.chars().any(|c| c != '-' && c != ' '));
    lines
}

fn bottom(run: &RunView<'_>, seals: &RecordSeals) -> Vec<String> {
    let seal = seals.short().map(|seal| format!(" Seal {seal}.")).unwrap_or_default();
    let skipped = run.skipped_labels().into_iter().map(|what| format!("{what} (skipped)"));
    let not_tested: Vec<String> = skipped.chain(run.never_tested()).collect();
    let mut lines = hung("Not tested: ", &(not_tested.join("; ") + "."), BRIEF_COLUMNS);
    lines.extend(wrap(
        &format!("No certificate.{seal} Record {}. End.", run.contents.header.id),
        BRIEF_COLUMNS,
        0,
    ));
    lines
}

/// The findings with what to do about them, the worst first, in ten lines of 80 columns at most: what is told before
/// a record is sealed.
pub fn review(run: &RunView<'_>) -> Vec<(Grade, String)> {
    let findings = run.finding_lines();
    let lines = |(detail, _): &([Grade; 3], usize)| in_detail(&findings, detail);
    let fits = |shown: &Vec<(Grade, String)>| {
        shown.iter().map(|(_, text)| text.len().div_ceil(BRIEF_COLUMNS - BESIDE)).sum::<usize>() <= REVIEW
    };
    LESS.iter().map(lines).find(fits).unwrap_or_else(|| {
        let mut least = lines(&LESS[LESS.len() - 1]);
        least.truncate(REVIEW);
        least
    })
}

/// The numbers as found and as left, in lines of so many columns: what is told once a record is sealed.
pub fn closing_lines(run: &RunView<'_>, width: usize) -> Vec<String> {
    numbers(&number_rows(run), width)
}

/// The findings, the worst first, in so much detail.
fn shown(findings: &[FindingLine], detail: &[Grade; 3]) -> Vec<String> {
    let hung = |(grade, text): (Grade, String)| {
        hung(&format!("{:<BESIDE$}", grade.word().to_uppercase()), &text, BRIEF_COLUMNS)
    };
    in_detail(findings, detail).into_iter().flat_map(hung).collect()
}

fn in_detail(findings: &[FindingLine], [whole, begun, named]: &[Grade; 3]) -> Vec<(Grade, String)> {
    let line = |line: &FindingLine| {
        let text = match line.grade {
            grade if grade >= *whole => line.in_brief(),
            grade if grade >= *begun => line.in_two_words(),
            _ => line.in_a_word(),
        };
        (line.grade, text)
    };
    findings.iter().filter(|line| line.grade >= *named).map(line).collect()
}

/// As many lines as there is room for, and how it goes on.
fn as_many(mut lines: Vec<String>, room: usize) -> Vec<String> {
    if lines.len() > room {
        lines.truncate(room.saturating_sub(1));
        lines.push(format!("{:<BESIDE$}More stands on the finding sheet.", ""));
    }
    lines
}

/// A text as it stands within a sentence.
fn within(text: &str) -> String {
    text.strip_prefix("The ").map_or_else(|| text.to_string(), |rest| format!("the {rest}"))
}
