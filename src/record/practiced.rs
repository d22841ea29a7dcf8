//! Which simulated installation a record of practice is of.

/// Which simulated installation a practice was at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Practiced {
    /// The name of what is wrong there.
    pub fault: String,
    /// The number it was drawn from.
    pub seed: u64,
}
