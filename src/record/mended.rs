//! What a mended record lacks.

/// What is missing from a record that was made of the whole parts of a damaged one.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Mended {
    /// The name of the damaged record.
    pub from: String,
    /// The numbers of the entries that were not whole.
    pub lost: Vec<u64>,
    /// The head was not whole: it holds what could be read of it.
    pub head: bool,
}
