//! `a +- b`: a value known to lie within limits, each occurrence a source of uncertainty of its own; which limits
//! fit which values.
//!
//! Nothing more is known than the limits, so the distribution is rectangular and the standard
//! uncertainty is the limit by √3 (JCGM 100:2008, 4.3.7). The source's identity is made from its
//! place in the file, so that working the expression out twice gives the same value, and the
//! same place is one source in every round of a loop.

use std::sync::Arc;

use super::{Checker, Found};
use crate::lang::part::{TypedNode, Within};
use crate::lang::{Expr, Node, Problem};
use crate::quantity::{Kind, Measure, SourceId, show_number};
use crate::source::Span;

impl Checker<'_> {
    /// Limits are a difference of what they stand behind, or a percentage of it.
    pub(super) fn within(
        &mut self,
        sign: Span,
        a: &Expr,
        b: &Expr,
        expected: Option<Measure>,
        span: Span,
    ) -> Option<Found> {
        let relative = matches!(b.node, Node::Number(_, Some(unit)) if unit.symbol == "%");
        if relative && matches!(a.node, Node::Number(_, Some(unit)) if unit.symbol == "%") {
            return self.fault(percent_of_percent(a, b));
        }
        let estimate = self.one(a, expected);
        let estimate = self.estimated(estimate?)?;
        let measure = estimate.measure()?;
        if relative && matches!(measure, Measure::Temperature | Measure::Instant) {
            let message =
                format!("a percentage of {} means nothing: its zero was chosen at will", estimate.ty);
            let remedy = format!("write the limit as {}", measure.difference().phrase());
            return self.fault(Problem::new("wrong-kind", b.span, message, remedy));
        }
        let limit_of = if relative { Measure::Number } else { measure.difference() };
        let limit = self.one(b, Some(limit_of))?;
        let limit = self.must_be(limit, &Kind::Measure(limit_of), &"the limit either way")?;
        if matches!(limit.part, TypedNode::Amount(_, number) if number < 0.0) {
            let message = "a limit either way is not below zero";
            let remedy = "write it without the minus";
            return self.fault(Problem::new("negative-limit", limit.span, message, remedy));
        }
        let written: Arc<str> = format!("{a} {} {b}", crate::lang::Binary::Within.sign()).into();
        let (name, start) = self.origin.map_or(("", 0), |quoted| (quoted.source.name(), quoted.span.start));
        let source = SourceId::limit_at((name, start, sign.start, &written));
        let within = Within { source, written, estimate: estimate.part, limit: limit.part, relative };
        Some(Found { part: TypedNode::Within(Box::new(within)), span, ..estimate })
    }

    /// What has limits must be a measured value.
    fn estimated(&mut self, found: Found) -> Option<Found> {
        if found.measure().is_some() {
            return Some(found);
        }
        let message = format!("only a number or measured value has limits, and this is {}", found.ty);
        let label = format!("this is {}", found.ty);
        let remedy = "put `+-` behind a measured value";
        self.fault(Problem::new("wrong-kind", found.span, message, remedy).label(label))
    }
}

/// A limit in percent behind a percentage may be a share of it, or points of percent.
fn percent_of_percent(a: &Expr, b: &Expr) -> Problem {
    let number = |of: &Expr| if let Node::Number(number, _) = of.node { number } else { 0.0 };
    let (whole, limit) = (number(a) / 100.0, number(b) / 100.0);
    let [share, points] = [whole * limit, limit].map(|limit| show_number(limit, 0.0));
    let remedy =
        format!("write `{a} +- {share}` for a share of it, or `{a} +- {points}` for points of percent");
    Problem::new("two-meanings", b.span, "the limit of a percentage can mean two things", remedy)
        .label("of what stands before it, or points?")
}
