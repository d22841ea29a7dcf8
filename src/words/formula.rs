//! What people are told of a formula.

/// A formula in words, written once: doc comments, guide and explanations all take it from here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Formula {
    /// What it gives, in one sentence.
    pub sentence: &'static str,
    /// How it is worked out, in the names of the parameters.
    pub formula: &'static str,
    /// What it holds for; empty where that needs no telling.
    pub range: &'static str,
    /// Where it comes from: a publication, a law of physics, or common practice.
    pub source: &'static str,
}
