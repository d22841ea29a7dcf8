//! Where text stands: a named text, spans in it, and the faults that point at them.
//!
//! Every later stage carries [`Span`]s, so that a message can always show the very characters
//! it speaks of.

mod fault;
mod quoted;
mod text;

pub use fault::Fault;
pub use quoted::Quoted;
pub(crate) use text::Place;
pub use text::{SourceText, Span};
