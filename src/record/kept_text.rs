//! The texts that a record keeps.

use std::sync::Arc;

/// What a text kept in a record was for the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextRole {
    /// The procedure that was performed, as it came with the program.
    Procedure,
    /// The procedure that was performed, when it is the owner's own.
    OwnProcedure,
    /// A part the procedure uses.
    Part,
    /// A part the procedure uses that is the owner's own.
    OwnPart,
    /// The owner's system file.
    System,
}

/// The exact text of a file the run was made with, so that the record stands alone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptText {
    /// What it was for.
    pub role: TextRole,
    /// The name it had, such as `procedures/flush.toml`.
    pub name: String,
    /// Every character of it.
    pub text: Arc<str>,
}
