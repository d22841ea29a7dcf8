//! What a report and its figures are made from.

use crate::lang::{CheckedExpr, Expr, Node, Values};
use crate::procedure::Procedure;
use crate::quantity::{Measure, Unit, Units};
use crate::record::Contents;
use crate::report::steps::PlacedStep;
use crate::report::summary::effective_entries::EffectiveEntries;
use crate::system::System;

/// A record, and what is needed to tell of it.
#[derive(Clone, Copy)]
pub struct Account<'a> {
    /// What it holds.
    pub contents: &'a Contents,
    /// The procedure it was made with, when it can still be read.
    pub procedure: Option<&'a Procedure>,
    /// The installation it was made on.
    pub system: Option<&'a System>,
    /// The values the run ended with, for margins and figures.
    pub values: Option<&'a dyn Values>,
    /// How its seals were found.
    pub seals: &'a str,
    /// The last seal of the file.
    pub last_seal: Option<&'a str>,
    /// What is wrong with the file, when its seals do not hold.
    pub broken: Option<&'a str>,
}

/// What the figures are drawn from.
pub(super) struct Source<'a> {
    pub effective: &'a EffectiveEntries<'a>,
    pub values: &'a dyn Values,
    pub units: Units,
}

impl<'a> Source<'a> {
    /// Every value the procedure works out, with its step.
    pub fn computed(&self) -> impl Iterator<Item = (&'a PlacedStep<'a>, &'a CheckedExpr)> {
        let placed = self.effective.steps.placed.iter();
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
