//! A file of answers.
//!
//! ```toml
//! format = 1
//! start  = 2031-04-05T09:00:00-05:00      # what the clock shows at the beginning
//!
//! [[answer]]
//! step  = "air_found"
//! asks  = "Air pressure at the tank's air valve"    # must be in the question or above it
//! after = "5 min"                                   # the clock moves on before the first answer
//! give  = ["38", "38.5", "38"]                      # one text, or one for each time it is asked
//! ```

use std::time::Duration;

use crate::clock::Moment;
use crate::source::{Quoted, SourceText, Span};

/// One `[[answer]]`.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ScriptedAnswer {
    pub step: Quoted,
    pub give: Vec<Quoted>,
    pub asks: Option<Quoted>,
    /// How far the clock moves first, and where that stands.
    pub after: Option<(Duration, Span)>,
}

/// A file of answers that was found sound.
#[derive(Clone, Debug)]
pub struct Script {
    pub(super) source: SourceText,
    pub(super) answers: Vec<ScriptedAnswer>,
    pub(super) start: Moment,
}

impl Script {
    /// What the clock shows at the beginning.
    pub fn start(&self) -> Moment {
        self.start
    }
}
