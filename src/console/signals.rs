//! Ctrl-C and requests to end, as a flag.
//!
//! A handler that ended the program would race with whoever is asking a question and leave the
//! terminal without echo or cursor. So a signal only raises a flag; waiting calls are broken off
//! by it, look at the flag, and everything is put back in order on the ordinary way out.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use crate::machine::{ENDING_SIGNALS, take_keys};

/// Whether the program was told to end. Clones share one flag.
#[derive(Clone, Debug, Default)]
pub struct Signals {
    flag: Arc<AtomicBool>,
    /// Ctrl-Z: the program is to stop until it is called back.
    stop: Arc<AtomicBool>,
    /// Ctrl-D: nothing more will be typed.
    end: Arc<AtomicBool>,
}

impl Signals {
    /// A flag that no signal raises.
    pub fn none() -> Signals {
        Signals::default()
    }

    /// Raises the flag on Ctrl-C, on a request to end and where the terminal was closed, which no longer end the program by
    /// themselves: only for work that asks questions and so looks at the flag.
    ///
    /// # Errors
    /// When the system refuses.
    pub fn install() -> io::Result<Signals> {
        let signals = Signals::none();
        for signal in ENDING_SIGNALS {
            signal_hook::flag::register(*signal, Arc::clone(&signals.flag))?;
        }
        Ok(signals)
    }

    /// Takes Ctrl-Z and Ctrl-D too, for a face that holds the terminal in a key mode: those keys come as
    /// signals there.
    ///
    /// # Errors
    /// When the system refuses.
    pub(super) fn take_keys(&self) -> io::Result<()> {
        take_keys(&self.stop, &self.end)
    }

    /// Whether Ctrl-Z came since the last call.
    pub(super) fn take_stop(&self) -> bool {
        self.stop.swap(false, Ordering::SeqCst)
    }

    /// Whether Ctrl-D came since the last call.
    pub(super) fn take_end(&self) -> bool {
        self.end.swap(false, Ordering::SeqCst)
    }

    /// Whether a signal has arrived.
    pub fn arrived(&self) -> bool {
        self.flag.load(Ordering::SeqCst)
    }

    /// Raises the flag, as a signal would.
    #[cfg(test)]
    pub(crate) fn raise(&self) {
        self.flag.store(true, Ordering::SeqCst);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clones_share_the_flag() {
        let signals = Signals::none();
        let other = signals.clone();
        assert!(!other.arrived());
        signals.raise();
        assert!(other.arrived());
    }
}
