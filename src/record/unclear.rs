//! What can be unclear in a block of a record whose seal holds.

use thiserror::Error;

use super::render::FORMAT;

/// Why a block of TOML is not what a record has there.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub(super) enum Unclear {
    /// It is not TOML; what its reader says.
    #[error("{0}")]
    NotToml(String),
    /// A field is of another type.
    #[error("`{key}` should be {what}; a {found} stands there")]
    WrongType { key: String, what: &'static str, found: &'static str },
    /// A field is not there.
    #[error("`{0}` is missing")]
    Missing(String),
    /// Another format.
    #[error("`format` should be {FORMAT}")]
    Format,
    /// A name that is no file's, such as one with a path in it.
    #[error("{0:?} cannot name a run: letters, digits, `-`, `_` and `.`, 1 to 200 of them")]
    Id(String),
    /// Units that are none.
    #[error("no units are called {0:?}")]
    Units(String),
    /// A kept text, by its name, that was changed.
    #[error("the text {0:?} does not have the digest that stands with it")]
    Digest(String),
    /// A kept text of an unknown role.
    #[error("no text has the role {0:?}")]
    Role(String),
    /// An outcome that is none.
    #[error("no outcome is called {0:?}")]
    Outcome(String),
    /// Neither an entry nor the result, or more than one.
    #[error("one `[[entry]]` or `[result]` should stand here")]
    NoBlock,
    /// A block after the result.
    #[error("something stands after the result")]
    AfterResult,
    /// An entry whose number is not the next.
    #[error("entry {next} should stand here")]
    OutOfOrder { next: u64 },
}
