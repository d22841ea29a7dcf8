//! `a +- b`: a value known to lie within limits, each occurrence a source of doubt of its own.
//!
//! Nothing more is known than the limits, so the distribution is rectangular and the standard
//! uncertainty is the limit by √3 (JCGM 100:2008, 4.3.7). The source's identity is made from its
//! place in the file, so that working the expression out twice gives the same value, and the
//! same place is one source in every round of a loop.

use super::part::{Part, Within};
use crate::quantity::SourceId;
use crate::source::Quoted;

impl Within {
    /// The source of an expression that stands in `origin`, or by itself.
    pub fn identify(&mut self, origin: Option<&Quoted>) {
        let (name, start) = origin.map_or(("", 0), |quoted| (quoted.source.name(), quoted.span.start));
        self.source = SourceId::limit_at((name, start, self.at, &self.written));
    }
}

impl Part {
    /// Calls `visit` for every `+-` in the part.
    pub(super) fn each_limit(&mut self, visit: &mut dyn FnMut(&mut Within)) {
        match self {
            Part::Amount(..) | Part::Word(_) | Part::YesNo(_) | Part::Name(_) | Part::Known(_) => {}
            Part::One(a, _) | Part::Minus(a) | Part::Not(a) => a.each_limit(visit),
            Part::And(a, b)
            | Part::Or(a, b)
            | Part::Compare(_, a, b)
            | Part::Arithmetic(_, _, a, b)
            | Part::Otherwise(a, b) => {
                a.each_limit(visit);
                b.each_limit(visit);
            }
            Part::If(a, b, c) => [a, b, c].into_iter().for_each(|part| part.each_limit(visit)),
            Part::Series(parts) | Part::Call(_, parts) => {
                parts.iter_mut().for_each(|part| part.each_limit(visit));
            }
            Part::Within(within) => {
                within.estimate.each_limit(visit);
                within.limit.each_limit(visit);
                visit(within);
            }
        }
    }

    /// A literal, perhaps within limits, with this number in place of its own.
    pub(super) fn with_number(self, amount: Part) -> Part {
        match self {
            Part::Within(mut within) => {
                within.estimate = within.estimate.with_number(amount);
                Part::Within(within)
            }
            _ => amount,
        }
    }
}
