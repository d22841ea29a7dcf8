//! Talking to a person: one trait, several faces.
//!
//! Whoever asks hands over [`Block`]s and [`Prompt`]s and gets [`Reply`]s, whatever sits at the
//! other end: a terminal that can do more ([`RichFace`]), a pipe or a screen reader
//! ([`PlainFace`]), or prepared answers ([`ScriptFace`]). What a typed line means is decided in
//! one place ([`understand`]), and how things look in another, so that all of them agree.
//! [`Surroundings`] says which face fits where the program runs.

mod choice;
mod face;
mod input;
mod layout;
mod line;
mod not_accepted;
mod outlet;
mod paced;
mod paper;
mod parts;
mod plain;
mod rich;
mod script;
mod signals;
mod style;
mod surroundings;
mod typed;
mod wait;

pub use crate::machine::KeyMode;
pub use face::{Block, Command, Countdown, CountdownEnd, Ended, Face, Prompt, Reply, ReplyKind};
pub use input::StandardInput;
pub use not_accepted::NotAccepted;
pub use outlet::Outlet;
pub(crate) use paced::Paced;
pub use plain::PlainFace;
pub use rich::RichFace;
pub use script::{Script, ScriptFace};
pub use signals::Signals;
pub use style::{ColourWish, Style};
pub use surroundings::Surroundings;
pub use typed::understand;
