//! How one check came to its verdict.

use std::sync::Arc;

use crate::lang::{CheckProbability, Explanation, Unknown};
use crate::quantity::{Measure, Uncertain, Verdict};

/// How one check came to its verdict.
#[derive(Clone, Debug)]
pub struct CheckDerivation {
    /// The step that checked it.
    pub step: Arc<str>,
    /// What it compared.
    pub how: Explanation,
    /// By how much it holds, to first order; below zero it does not. Only of a comparison.
    pub margin: Option<(Measure, Uncertain)>,
    /// How likely it holds.
    pub judged: Result<CheckProbability, Unknown>,
    /// What it said.
    pub verdict: Verdict,
    /// The probability it went by.
    pub confidence: f64,
}
