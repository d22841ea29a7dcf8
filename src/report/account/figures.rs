//! Which figures a record can fill, found by what its procedure works out, not by its names.

use super::source::{Account, Source};
use super::{curve, decay, hold};
use crate::report::summary::effective_entries::EffectiveEntries;
use crate::report::{Figure, Page};

/// Adds the figures there are numbers for, under a heading.
pub(super) fn put(account: &Account<'_>, effective: &EffectiveEntries<'_>, page: &mut Page) {
    let Some(values) = account.values else { return };
    let source = Source { effective, values, units: account.contents.header.units };
    let first = [curve::figure(&source), decay::figure(&source)];
    let figures: Vec<_> = first.into_iter().chain(hold::figures(&source).into_iter().map(Some)).collect();
    if figures.iter().flatten().any(Figure::shows_something) {
        page.heading("Figures");
        figures.into_iter().for_each(|figure| page.figure(figure));
    }
}
