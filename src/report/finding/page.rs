//! The finding sheet as a page.

use super::{STATES, number_rows};
use crate::record::{Grade, Phase};
use crate::report::account::RecordSeals;
use crate::report::run_view::RunView;
use crate::report::{Page, PageBlock, Row};
use crate::words::{capitalized, non_empty};

/// Of more findings than this those that need no attention are told in short: the appendix has them whole.
pub(in crate::report) const MOST_WHOLE: usize = 4;

/// Page one of a report.
pub(in crate::report) fn sheet_page(run: &RunView<'_>, seals: &RecordSeals) -> Page {
    let mut page = Page::titled(run.report_title());
    if let Some(broken) = &seals.broken {
        page.note(format!("BROKEN SEAL: {broken}. Below stands only what is whole."));
    }
    let invented = "INVENTED, for demonstration: the installation and every reading.";
    run.origin(invented).into_iter().for_each(|origin| page.note(origin));
    let findings = run.finding_lines();
    page.blocks.push(PageBlock::Lead(run.in_short(&findings) + &run.left_as()));
    let short = findings.len() > MOST_WHOLE;
    let rows = findings.iter().map(|line| {
        let words = if short && line.grade < Grade::Attention { line.in_brief() } else { line.words() };
        Row::new([Grade::word(line.grade).to_uppercase(), words])
    });
    page.table(&[], about(run));
    page.headed_table("Findings", &["Grade", "What was found, and what to do next"], rows);
    page.headed_table("Numbers", &["", "Found", "Left", "Limit or target"], number_rows(run));
    page.text("± covers 95 %.");
    page.headed_table("Limits of this sheet", &[], limits(run));
    page.text(STATES);
    page.blocks.push(PageBlock::Signatures(vec!["Signed, with date".to_string()]));
    let seal = seals.short().map(|seal| format!(", seal {seal}")).unwrap_or_default();
    page.text(format!("Record {}{seal}. End of the finding sheet.", run.contents.header.id));
    page
}

/// What was examined, where, when, by whom.
fn about(run: &RunView<'_>) -> Vec<Row> {
    let header = &run.contents.header;
    let (time, who) = run.made();
    let tanks = run.tanks_in_turn().into_iter();
    let tanks: Vec<String> = tanks.map(|tank| capitalized(&run.tank_line(tank))).collect();
    let word = if tanks.len() == 1 { "Tank" } else { "Tanks" };
    let rows = [
        ("Record", Some(header.id.clone())),
        (word, non_empty(tanks.join("\n"))),
        ("Place", header.site.clone()),
        ("When", Some(time)),
        ("By", who),
        ("Last time", non_empty(run.shown_by_tank(Phase::Before).join("\n"))),
        ("Own files", run.own_files()),
        ("Checks go by", run.unusual_confidence()),
    ];
    Row::led_by(rows).collect()
}

/// What was not tested, and what was measured with.
fn limits(run: &RunView<'_>) -> Vec<Row> {
    let not_tested = capitalized(&run.not_tested().join("; ")) + ".";
    let gauges = non_empty(run.gauges().join(".\n")).map(|all| all + ".");
    Row::led_by([("Not tested", Some(not_tested)), ("Gauges", gauges)]).collect()
}
