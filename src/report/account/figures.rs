//! Which figures a record can fill, found by what its procedure works out, not by its names.

use super::{Account, curve, decay, hold};
use crate::lang::{Checked, Expr, Node, Values};
use crate::quantity::{Measure, Unit, Units};
use crate::report::steps::Placed;
use crate::report::summary::told::Told;
use crate::report::{Figure, Page};

/// What the figures are drawn from.
pub(super) struct Source<'a> {
    pub told: &'a Told<'a>,
    pub values: &'a dyn Values,
    pub units: Units,
}

/// Adds the figures there are numbers for, under a heading.
pub(super) fn put(account: &Account<'_>, told: &Told<'_>, page: &mut Page) {
    let Some(values) = account.values else { return };
    let source = Source { told, values, units: account.contents.header.units };
    let first = [curve::figure(&source), decay::figure(&source)];
    let figures: Vec<_> = first.into_iter().chain(hold::figures(&source).into_iter().map(Some)).collect();
    if figures.iter().flatten().any(Figure::shows_something) {
        page.heading("Figures");
        figures.into_iter().for_each(|figure| page.figure(figure));
    }
}

impl<'a> Source<'a> {
    /// Every value the procedure works out, with its step.
    pub fn computed(&self) -> impl Iterator<Item = (&'a Placed<'a>, &'a Checked)> {
        let placed = self.told.steps.placed.iter();
        placed.filter_map(|placed| Some((placed, placed.step.course().computes()?.expr.as_ref())))
    }

    /// The unit a measure is plotted in, and its sign.
    pub fn unit(&self, measure: Measure) -> Option<&'static Unit> {
        self.units.unit_for(measure)
    }
}

/// The name that stands as an argument of a call in an expression, as written.
#[expect(clippy::wildcard_enum_match_arm, reason = "it looks for one shape of expression")]
pub(super) fn name_in_call<'e>(expr: &'e Expr, function: &str, at: usize) -> Option<&'e str> {
    let in_all = |parts: &[&'e Expr]| parts.iter().find_map(|part| name_in_call(part, function, at));
    match &expr.node {
        Node::Call(name, _, arguments) if name == function => match &arguments.get(at)?.node {
            Node::Name(name) => Some(name),
            _ => None,
        },
        Node::Call(_, _, parts) => parts.iter().find_map(|part| name_in_call(part, function, at)),
        Node::Minus(a) | Node::Not(a) => name_in_call(a, function, at),
        Node::Binary(_, _, a, b) => in_all(&[a, b]),
        Node::If(a, b, c) => in_all(&[a, b, c]),
        Node::Number(..) | Node::Word(_) | Node::YesNo(_) | Node::Name(_) | Node::Known(..) => None,
    }
}
