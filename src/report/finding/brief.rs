//! What a report comes to, in twenty lines of 80 columns: for an e-mail or a telephone.

use super::{FindingLine, numbers};
use crate::report::account::RecordSeals;
use crate::report::run_view::RunView;
use crate::report::text::hung;
use crate::report::{Page, Row, to_text};
use crate::words::{capitalized, list, wrap};

/// How wide the lines are.
const COLUMNS: usize = 80;
/// How many lines there are at most.
const LINES: usize = 20;

/// The finding sheet in twenty lines: what it came to, what to do, the numbers, what was not tested.
pub fn brief_lines(run: &RunView<'_>, seals: &RecordSeals<'_>) -> Vec<String> {
    let rows = numbers::rows(run);
    let whole = with_numbers(run, seals, &rows);
    let over = whole.len().saturating_sub(LINES);
    // Of several tanks there may be more numbers than room; the last are the least.
    if over == 0 { whole } else { with_numbers(run, seals, &rows[..rows.len().saturating_sub(over)]) }
}

fn with_numbers(run: &RunView<'_>, seals: &RecordSeals<'_>, rows: &[Row]) -> Vec<String> {
    let header = &run.contents.header;
    let findings = run.finding_lines();
    let broken = seals.broken.map(|broken| format!("BROKEN SEAL: {broken}."));
    let invented = if header.demo { " (invented)" } else { "" };
    let site = header.site.as_deref().map(|site| format!(", {site}")).unwrap_or_default();
    let head = format!("{}{site}{invented}, {}", run.report_title(), header.started.date());
    let top = [broken, Some(head), Some(tanks(run)), Some(run.in_short(&findings))];
    let top = top.into_iter().flatten().filter(|line| !line.is_empty());
    let mut lines: Vec<String> = top.flat_map(|line| wrap(&line, COLUMNS, 0)).collect();
    let mut table = Page::default();
    table.table(&["", "Found", "Left", "Limit or target"], rows.to_vec());
    let mut bottom = to_text(&table, COLUMNS);
    bottom.retain(|line| line.chars().any(|c| c != '-' && c != ' '));
    bottom.extend(hung("Not tested: ", &(run.not_tested().join("; ") + "."), COLUMNS));
    bottom.push(format!("No certificate. Record {}. End.", header.id));
    lines.extend(as_many(&findings, LINES.saturating_sub(lines.len() + bottom.len())));
    lines.extend(bottom);
    lines
}

/// The tank with its plate; of several their names.
fn tanks(run: &RunView<'_>) -> String {
    match run.contents.header.tanks.as_slice() {
        [] => capitalized(&run.tank_line(None)),
        several => format!("Tanks: {}", list(several, "and")),
    }
}

/// As many findings as there is room for, the worst first and always, and how many more there are.
fn as_many(findings: &[FindingLine], room: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for (at, finding) in findings.iter().enumerate() {
        let by = finding.by.as_ref().map(|day| format!("By {day}.")).unwrap_or_default();
        let name = if finding.name.is_empty() { finding.says.clone() } else { format!("{}.", finding.name) };
        let text = format!("{name} {} {by}", finding.next);
        let next = hung(&format!("{:<11}", finding.grade.word().to_uppercase()), text.trim_end(), COLUMNS);
        let rest = findings.len() - at - 1;
        if at > 0 && lines.len() + next.len() + usize::from(rest > 0) > room {
            lines.push(format!("{:<11}and {} more: see the finding sheet.", "", rest + 1));
            break;
        }
        lines.extend(next);
    }
    lines
}
