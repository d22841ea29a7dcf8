//! The list of records.

use super::wording::{outcome_word, with_findings};
use super::{Page, Row};
use crate::record::{Glance, RecordFault};
use crate::words::list;

/// Every record in a table, in the order given; the files that cannot be read at the end, each
/// with the reason and what to do.
///
/// ```
/// use tankhand::report::{records_page, to_text};
/// assert_eq!(to_text(&records_page(&[]), 80)[3], "There are no records yet.");
/// ```
pub fn records_page(records: &[Result<Glance, RecordFault>]) -> Page {
    let mut page = Page::titled("Records");
    if records.is_empty() {
        page.text("There are no records yet.");
    }
    let rows = records.iter().flatten().map(row).collect();
    page.table(&["Record", "Begun", "Procedure", "Tank", "Outcome"], rows);
    let broken = records.iter().filter_map(|one| one.as_ref().err()).map(ToString::to_string);
    page.headed_list("Cannot be read", broken.collect());
    page
}

fn row(glance: &Glance) -> Row {
    let tanks = Some(list(&glance.tanks, "and")).filter(|_| !glance.tanks.is_empty());
    let place = [tanks.as_deref(), glance.site.as_deref()];
    let place = place.into_iter().flatten().collect::<Vec<_>>().join(", ");
    let invented = if glance.demo { " (invented)" } else { "" };
    let typed = if glance.transcribed { " (typed in)" } else { "" };
    Row::new([
        glance.id.clone(),
        glance.started.date(),
        glance.title.clone(),
        format!("{place}{invented}{typed}").trim_start().to_string(),
        with_findings(outcome_word(glance.outcome), glance.grade, &glance.found),
    ])
}
