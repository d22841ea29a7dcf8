//! The key mode, which is not to be had here: the plain face needs none.

use std::io;
use std::time::Duration;

/// While this lives, keys come one by one and unseen; never here.
#[derive(Debug)]
pub struct KeyMode;

impl KeyMode {
    /// Switches the terminal over.
    ///
    /// # Errors
    /// Always.
    pub fn hold() -> io::Result<KeyMode> {
        Err(io::ErrorKind::Unsupported.into())
    }

    /// Forgets keys that were typed before the question stood there.
    pub fn forget_typed_ahead(&self) {}
}

/// Stops the program until it is called back.
pub(crate) fn stop_until_called() -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

/// Whether a key comes within `span`.
pub(crate) fn key_comes(_: Duration) -> io::Result<bool> {
    Err(io::ErrorKind::Unsupported.into())
}

/// The bytes of the keys that lie ready.
pub(crate) fn keys_ready() -> io::Result<Vec<u8>> {
    Err(io::ErrorKind::Unsupported.into())
}
