//! What a procedure is loaded among: parts, and what a system file may have.

use thiserror::Error;

use crate::quantity::Kind;
use crate::source::SourceText;

/// A value a system file may have.
#[derive(Clone, Debug)]
pub struct Path {
    /// Its name, such as `switch.cut_in`.
    pub name: &'static str,
    /// Its kind.
    pub kind: Kind,
}

/// A part whose text is there and cannot be read.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("{why}")]
pub struct UnreadableText {
    /// Why not, with its name, without a full stop.
    pub why: String,
}

/// Where the texts of parts come from.
pub trait Texts {
    /// The text of a part, when there is one; an unreadable one says why.
    fn text(&self, name: &str) -> Option<Result<SourceText, UnreadableText>>;
    /// Whether they are those that a record keeps, made with the program of that time.
    fn are_kept(&self) -> bool {
        false
    }
    /// Every part there is.
    fn names(&self) -> Vec<String>;
}

/// No parts at all: for a procedure that stands alone.
///
/// ```
/// use tankhand::procedure::{LoadContext, NoParts, load};
/// use tankhand::source::SourceText;
/// let text = "format = 1\ntitle = 'Look'\npurpose = 'See.'\n[[step]]\ndo = 'Look.'\n";
/// let around = LoadContext { texts: &NoParts, paths: &[] };
/// assert_eq!(load(&SourceText::new("look.toml", text), &around).unwrap().title, "Look");
/// ```
#[derive(Clone, Copy, Debug)]
pub struct NoParts;

impl Texts for NoParts {
    fn text(&self, _: &str) -> Option<Result<SourceText, UnreadableText>> {
        None
    }

    fn names(&self) -> Vec<String> {
        Vec::new()
    }
}

/// What a procedure is loaded among.
pub struct LoadContext<'a> {
    /// The parts.
    pub texts: &'a dyn Texts,
    /// What a system file may have.
    pub paths: &'a [Path],
}
