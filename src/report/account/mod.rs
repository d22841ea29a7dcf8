//! The report of a record: what a buyer, an inspector or the next owner reads.
//!
//! The page is built here as values; [`to_html`](super::to_html) and [`to_text`](super::to_text)
//! lay it out. Labels, pairs and figures come from what the procedure says of its steps, so that
//! an owner's own procedure gets the same report.

mod checks;
mod closing;
mod curve;
mod decay;
mod hold;
mod installation;
mod readings;
mod seasons;
mod switch;

pub use closing::RecordSeals;

use super::finding::{MOST_WHOLE, sheet_page};
use super::run_view::{RunView, Unpaired};
use super::{Figure, Page};
use crate::record::Phase;

/// What a record tells, for those who were not there: the finding sheet, and the appendix.
pub fn report_pages(run: &RunView<'_>, seals: &RecordSeals) -> [Page; 2] {
    [sheet_page(run, seals), appendix(run, seals)]
}

fn appendix(run: &RunView<'_>, seals: &RecordSeals) -> Page {
    let mut page = Page::titled("Appendix");
    let Unpaired { beside_pairs, found, left } = run.unpaired();
    if let Some(end) = run.contents.summary.as_ref().filter(|end| !end.words.is_empty()) {
        page.heading("In words");
        page.text(&end.words);
    }
    if run.finding_lines().len() > MOST_WHOLE {
        run.put_findings(&mut page);
    }
    let figures = figures(run);
    if figures.iter().any(Figure::shows_something) {
        page.heading("Figures");
        page.figures(figures);
    }
    run.put_checks(&mut page);
    run.put_installation(&mut page);
    page.headed_table("Since an earlier visit", &[], run.telling(Phase::Before));
    page.headed_table(if beside_pairs { "Also found" } else { "As found" }, &[], found);
    page.headed_table("Done", &[], run.telling(Phase::Done));
    page.headed_table(if beside_pairs { "Also left" } else { "As left" }, &[], left);
    if run.steps.procedure.is_none() {
        page.headed_table("Answers", &[], run.answers());
    }
    run.put_readings(&mut page);
    run.put_open(&mut page);
    run.put_warnings(&mut page);
    run.put_gaps(&mut page);
    closing::put(run, seals, &mut page);
    page
}

/// The figures there are numbers for, found by what the procedure works out, not by its names.
fn figures(run: &RunView<'_>) -> Vec<Figure> {
    let Some(values) = run.values else { return Vec::new() };
    let first =
        [switch::figure(run), seasons::figure(run), curve::figure(run, values), decay::figure(run, values)];
    first.into_iter().flatten().chain(hold::figures(run, values)).collect()
}
