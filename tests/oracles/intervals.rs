//! The interval told beside a value against the exact one (JCGM 101:2008, 7.7), where that can be
//! written down.

use tankhand::lang::{Ancestry, CheckedExpr, CoverageInterval, IntervalReason, Unknown, Value, Values};
use tankhand::procedure::check_expression;

use super::PSI;

struct NoNames;

impl Values for NoNames {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        panic!("{name} is asked for")
    }
}

impl Ancestry for NoNames {
    fn formula(&self, _: &str) -> Option<&CheckedExpr> {
        None
    }
}

fn interval_of(expression: &str) -> Option<CoverageInterval> {
    check_expression(expression).unwrap().coverage_interval(&NoNames)
}

#[track_caller]
fn lies(expression: &str, why: IntervalReason, psi: [f64; 2]) {
    let drawn = interval_of(expression).unwrap();
    assert_eq!((drawn.why, drawn.undefined_share), (why, 0.0), "{expression}");
    for (found, exact) in drawn.interval.iter().zip(psi) {
        // Four standard deviations of a 2.5 % quantile of 10,000 even draws.
        assert!((found / PSI - exact).abs() < 0.014, "{expression}: {} {exact}", found / PSI);
    }
}

#[test]
fn one_even_limit_covers_95_of_100_within_95_hundredths_of_it() {
    lies("38 psi +- 1 psi", IntervalReason::OneLimit, [37.05, 38.95]);
    lies("(38 psi +- 1 psi) - 38 psi", IntervalReason::OneLimit, [-0.95, 0.95]);
}

#[test]
fn at_a_kink_the_interval_is_that_of_the_folded_distribution() {
    lies("abs((38 psi +- 1 psi) - 38 psi)", IntervalReason::Asymmetric, [0.025, 0.975]);
    // Half of the draws stand at the kink itself.
    lies("max(38 psi +- 1 psi, 38 psi)", IntervalReason::Asymmetric, [38.0, 38.95]);
}

#[test]
fn where_twice_u_tells_it_nothing_more_is_told() {
    assert_eq!(interval_of("(8 gal +- 1 gal) + (9 gal +- 1 gal) + (7 gal +- 1 gal)"), None);
    assert_eq!(interval_of("38 psi"), None);
    // A figure for doubt is itself without doubt, and no trial can work it out.
    assert_eq!(interval_of("one_sided_limit(38 psi +- 1 psi)"), None);
}
