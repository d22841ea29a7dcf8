//! Why a typed line is not taken, in sentences that say what to type instead.

use thiserror::Error;

use crate::words::list;

/// Why a line is neither an answer nor a command here.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NotAccepted {
    /// It holds characters that could command a terminal.
    #[error(
        "There are characters in it that cannot be shown, perhaps from an arrow or function key. \
         Type it again."
    )]
    Unshowable,
    /// It is longer than any answer.
    #[error("That line is far too long to be an answer.")]
    TooLong,
    /// More lines came with it, as from a paste.
    #[error("Several lines came at once, and none of them is taken. Type or paste one line.")]
    SeveralLines,
    /// Its bytes are no text.
    #[error("That line is not readable text (UTF-8).")]
    NoText,
    /// A command that the prompt does not allow.
    #[error("`{0}` cannot be used here.")]
    NotOffered(&'static str),
    /// `note` without a remark.
    #[error("Type the remark on the same line, such as: note the valve drips")]
    NoRemark,
    /// `skip` without a reason.
    #[error("Type the reason on the same line, such as: skip no gauge at hand")]
    NoReason,
    /// `amend` without the number of an answer.
    #[error("Say which answer, such as: amend 7. `list` shows the numbers.")]
    NoNumber,
    /// Something else than the word that a warning was read, or the status that was seen.
    #[error("Nothing goes on until the whole word `{word}` is typed{}.", or_the_other(.otherwise.as_deref()))]
    NotTheWord {
        /// The word.
        word: String,
        /// The word that says it is not so.
        otherwise: Option<String>,
    },
    /// Something else than Enter.
    #[error("`{0}` is not expected here: press Enter when it is done.")]
    NotEnter(String),
    /// Anything typed at a pause.
    #[error("Press Enter first, and type `{0}` at the question.")]
    AtPause(String),
    /// None of the choices, or more than one; the sentence names those that come near.
    #[error("{0}")]
    NoSuchChoice(String),
    /// An early end of a wait that has none.
    #[error("This wait has to run to its end.")]
    ToTheEnd,
    /// Something else than a wait can be told; whether it may end early.
    #[error("During the wait you may type: {}.", list(wait_words(*.early), "or"))]
    DuringWait {
        /// Whether it may end early.
        early: bool,
    },
}

fn or_the_other(otherwise: Option<&str>) -> String {
    otherwise.map_or_else(String::new, |word| format!(", or `{word}` if it is not so"))
}

/// What may be typed during a wait, with what it does.
pub(super) fn wait_words(early: bool) -> Vec<&'static str> {
    if early { vec!["`end` to end it early", "`pause` to leave"] } else { vec!["`pause` to leave"] }
}
