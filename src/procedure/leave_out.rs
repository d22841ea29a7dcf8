//! `leave_out`: parts that a procedure uses, or that its parts use, and that an owner leaves out.
//!
//! Nothing that a left-out part gives has a value: texts say so, checks that rest on it can't tell, steps
//! that ask whether it is known are left out. What it brings about does not come about; where other steps
//! need that, or decide by what it gives, the proof says so and the part stays.

use std::sync::Arc;

use super::shipped::part_name;
use crate::source::{Fault, Quoted, SourceText};
use crate::words::did_you_mean;

/// A part left out where it would stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOutPart {
    /// Its name, such as `parts/drawdown-test`.
    pub part: String,
    /// The names that have no value without it.
    pub names: Vec<Arc<str>>,
    /// The states that do not come about without it.
    pub states: Vec<Arc<str>>,
}

impl LeftOutPart {
    /// Why what it gives has no value, as a clause.
    pub fn why(&self) -> String {
        format!("{} is left out by this file", self.part)
    }
}

/// Whether a part is among those left out, with or without its folder.
pub(super) fn leaves_out(left_out: &[Quoted], part: &str) -> bool {
    left_out.iter().any(|named| part_name(part) == part_name(&named.text))
}

/// Names in `leave_out` of parts that are used nowhere.
pub(super) fn used_nowhere(left_out: &[Quoted], texts: &[SourceText]) -> Vec<Fault> {
    let used: Vec<&str> = texts.iter().skip(1).map(|text| part_name(text.name())).collect();
    let stray = left_out.iter().filter(|named| !used.contains(&part_name(&named.text)));
    let fault = |named: &Quoted| {
        let message = format!("this file uses no part `{}`", named.text.escape_debug());
        let remedy = match used.is_empty() {
            true => "take it out, and the steps themselves with it".to_string(),
            false => did_you_mean(part_name(&named.text), &used),
        };
        let why = "`leave_out` takes parts away, not steps.";
        named.fault("left-out-nowhere", message).why(why).remedy(remedy)
    };
    stray.map(fault).collect()
}

/// Told of a part whose own file leaves others out.
pub(super) fn in_a_part(left_out: &[Quoted]) -> Option<Fault> {
    let fault = left_out.first()?.fault("left-out-nowhere", "a part leaves nothing out by itself");
    let remedy = "write `leave_out` at the top of the procedure; it reaches the parts of its parts";
    Some(fault.why("Which tests are made is for the procedure to say.").remedy(remedy))
}
