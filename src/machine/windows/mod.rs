//! Windows.

mod files;
#[cfg(feature = "terminal")]
mod input;
#[cfg(feature = "terminal")]
mod keys;
#[cfg(feature = "terminal")]
mod signals;
mod time;

pub(crate) use files::{claim, is_claimed, is_same_file, not_waiting, one_writer, sync_folder};
#[cfg(feature = "terminal")]
pub(crate) use input::InputFile;
#[cfg(feature = "terminal")]
pub use keys::KeyMode;
#[cfg(feature = "terminal")]
pub(crate) use keys::{key_comes, keys_ready, stop_until_called};
#[cfg(feature = "terminal")]
pub(crate) use signals::{ENDING_SIGNALS, outlive_large_writes, take_keys};
pub(crate) use time::{running, start_of_machine};

/// Whether keys can be had one by one, so that the rich face can be: the console here edits lines by itself.
#[cfg(feature = "terminal")]
pub(crate) const HAS_KEY_MODE: bool = false;
