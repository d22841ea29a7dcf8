//! What differs from one kind of machine to another, and nothing else: each kind has a folder with the
//! same names in it.
//!
//! Windows has no key mode (its console edits lines by itself), so the plain face is the one there. A
//! machine of no kind known here (WebAssembly) has neither folders to make safe nor a terminal: what is
//! below the terminal can be built for it.

#[cfg(not(any(unix, windows)))]
mod other;
#[cfg(unix)]
mod unix;
#[cfg(windows)]
mod windows;

#[cfg(not(any(unix, windows)))]
use other as kind;
#[cfg(unix)]
use unix as kind;
#[cfg(windows)]
use windows as kind;

pub(crate) use kind::{
    claim, is_claimed, is_same_file, not_waiting, one_writer, running, start_of_machine, sync_folder,
};

#[cfg(all(any(unix, windows), feature = "terminal"))]
pub use kind::KeyMode;
#[cfg(all(any(unix, windows), feature = "terminal"))]
pub(crate) use kind::{
    ENDING_SIGNALS, HAS_KEY_MODE, InputFile, key_comes, keys_ready, outlive_large_writes, stop_until_called,
    take_keys,
};
