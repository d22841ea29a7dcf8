//! Talking to a person: one trait, several faces.

mod face;
mod input;
mod keys;
mod layout;
mod paced;
mod paper;
mod plain;
mod rich;
mod script;
mod signals;
mod style;
mod surroundings;
mod typed;
mod wait;

pub use face::{Block, Command, Countdown, CountdownEnd, Ended, Face, Prompt, Reply, Want};
pub use input::{Input, LONGEST_LINE, Line, Ready, StandardInput};
pub use keys::KeyMode;
pub use paced::Paced;
pub use plain::PlainFace;
pub use rich::RichFace;
pub use script::{Script, ScriptFace};
pub use signals::Signals;
pub use style::{ColourWish, Style};
pub use surroundings::{FaceKind, Surroundings};
pub use typed::understand;
