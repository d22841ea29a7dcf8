//! Every class of hazard, held against every shipped procedure.
//!
//! A rule names its acts by what they do to states, by their verb, or by the order that is given, and
//! says what must stand with each. Needs are proven over every path as a procedure loads; that the
//! acts declare them is held here. A rule without an act would hold nothing, so it fails.

#![allow(clippy::unwrap_used)]

#[path = "../support/golden.rs"]
mod golden;
#[path = "../support/mod.rs"]
mod support;

mod acts;
mod limits;
mod messages;
mod rules;
mod words;

use std::fmt::Write as _;

use acts::{Act, loaded};
use rules::RULES;

#[test]
fn every_act_stands_with_what_keeps_it_safe() {
    let procedures = loaded();
    let mut broken: Vec<String> = Vec::new();
    for rule in RULES {
        let acts = procedures.iter().flat_map(Act::of_all).filter(|act| (rule.acts)(act));
        broken.extend(acts.filter(|act| !(rule.keeps)(act)).map(|act| format!("{}: {act}", rule.what)));
    }
    assert!(broken.is_empty(), "{broken:#?}");
}

/// A rule that lost its acts by a change of words would pass and hold nothing.
#[test]
fn which_acts_each_rule_holds_is_known() {
    let procedures = loaded();
    let mut table = String::new();
    for rule in RULES {
        let acts = procedures.iter().flat_map(Act::of_all).filter(|act| (rule.acts)(act));
        let mut steps: Vec<String> = acts.map(|act| act.step.id.to_string()).collect();
        steps.sort();
        steps.dedup();
        assert!(!steps.is_empty(), "no act: {}", rule.what);
        writeln!(table, "{}\n    {}", rule.what, steps.join(" ")).unwrap();
    }
    golden::holds("tests/safety/acts.txt", &table);
}
