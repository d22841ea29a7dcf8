//! Which figures a record can fill, found by what its procedure works out, not by its names.

use super::{curve, decay, hold, seasons, switch};
use crate::report::run_view::RunView;
use crate::report::{Figure, Page};

/// Adds the figures there are numbers for, under a heading.
pub(super) fn put(run: &RunView<'_>, page: &mut Page) {
    let Some(values) = run.values else { return };
    let first =
        [switch::figure(run), seasons::figure(run), curve::figure(run, values), decay::figure(run, values)];
    let figures: Vec<_> = first.into_iter().chain(hold::figures(run, values).into_iter().map(Some)).collect();
    if figures.iter().flatten().any(Figure::shows_something) {
        page.heading("Figures");
        figures.into_iter().for_each(|figure| page.figure(figure));
    }
}
