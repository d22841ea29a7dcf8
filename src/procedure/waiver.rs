//! A need that is left out.

use std::sync::Arc;

/// A need that a step of an owner's file leaves out, with the reason that is told wherever the run is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiver {
    /// The state that the shipped step needs.
    pub need: Arc<str>,
    /// Why it is left out.
    pub because: String,
}
