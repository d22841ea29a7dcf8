//! Talking to a person: one trait, several faces.

mod face;
mod input;
mod layout;
mod paper;
mod plain;
mod script;
mod signals;
mod style;
mod typed;
mod wait;

pub use face::{Block, Command, Countdown, CountdownEnd, Ended, Face, Prompt, Reply, Want};
pub use input::{Input, LONGEST_LINE, Line, Ready, StandardInput};
pub use plain::PlainFace;
pub use script::{Script, ScriptFace};
pub use signals::Signals;
pub use style::{ColourWish, Style};
pub use typed::understand;
