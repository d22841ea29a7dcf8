//! The script face: plays prepared answers, strictly, and writes the transcript.
//!
//! For demonstrations, tests and worked examples. The answers stand in a TOML file; each names
//! the step it is for, may say what must have been asked, and how far the clock moves before it
//! is given. A question that was not foreseen, or an answer that was not asked for, ends the
//! play with a fault that points into the file.

mod answers;
mod play;

pub use answers::Script;
pub use play::ScriptFace;
