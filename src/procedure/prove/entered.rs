//! What a part came with when it is proven by itself.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::conditions::Condition;
use crate::procedure::hazards::Hazard;
use crate::procedure::no_value::NoValue;
use crate::procedure::shown::Use;

/// What a part came with.
#[derive(Debug, Default)]
pub(super) struct Entered {
    /// The condition that a state held before, or that a hazard's message was shown.
    pub before: FxHashMap<Arc<str>, Condition>,
    /// Hazards whose message the user of the part must have shown.
    pub wary: Vec<&'static Hazard>,
    /// The names it takes that decide what is done.
    pub decides: Vec<Arc<str>>,
}

/// How an expression is used decides whether a missing value can be borne.
pub(super) fn is_borne(limit: &NoValue, used: Use) -> bool {
    matches!(limit, NoValue::Given(_)) || !used.must_be_defined()
}
