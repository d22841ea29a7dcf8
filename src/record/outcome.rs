//! The end of a record.

use super::Grade;
use crate::clock::Moment;

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Every step was walked to the end.
    Completed,
    /// The procedure stopped the work with a verdict against the tank or the installation.
    Failed,
    /// The procedure stopped the work before its end.
    Unfinished,
}

/// The end of a record.
#[derive(Clone, Debug, PartialEq)]
pub struct Summary {
    /// How it ended.
    pub outcome: Outcome,
    /// When.
    pub at: Moment,
    /// The verdict in words.
    pub words: String,
    /// The worst that was found; `None` where nothing was concluded.
    pub grade: Option<Grade>,
    /// What weighs worst, by its names; empty where nothing is worse than good.
    pub found: Vec<String>,
}
