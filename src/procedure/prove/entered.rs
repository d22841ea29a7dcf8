//! What a part came with when it is proven by itself.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::conditions::Condition;
use crate::procedure::hazards::Hazard;
use crate::procedure::shown::Use;

/// Why a value may be missing in a part: the user decides that.
pub(super) const GIVEN: &str = "What the part is given may have no value";

/// What a part came with.
#[derive(Debug, Default)]
pub(super) struct Entered {
    /// The condition that a state held before, or that a hazard's message was shown.
    pub before: FxHashMap<Arc<str>, Condition>,
    /// Hazards whose message the user of the part must have shown.
    pub wary: Vec<&'static Hazard>,
    pub decides: bool,
}

/// How an expression is used decides whether a missing value can be borne.
pub(super) fn is_borne(limit: &str, used: Use) -> bool {
    limit == GIVEN || !used.must_be_defined()
}
