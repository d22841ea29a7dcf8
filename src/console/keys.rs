//! The terminal's key mode while a person is waited for.
//!
//! The prompts set the terminal raw for each key and back in between; what is typed in between
//! would be echoed into the page, and a signal would leave the terminal without echo or cursor.
//! So one guard switches line editing, echo and signal keys off for as long as a question
//! stands, and puts everything back when it is dropped, also on a panic.

use std::io;
use std::sync::{Mutex, Once};
use std::time::Duration;

use console::Term;
use rustix::event::{PollFd, PollFlags, Timespec, poll};
use rustix::termios::{LocalModes, OptionalActions, QueueSelector, Termios, tcflush, tcgetattr, tcsetattr};

/// How the terminal was before; `Some` while a guard is held.
static BEFORE: Mutex<Option<Termios>> = Mutex::new(None);

/// Installs the panic hook once.
static HOOK: Once = Once::new();

/// While this lives, keys come one by one and unseen, and Ctrl-C comes as a key.
#[derive(Debug)]
pub struct KeyMode {
    /// Whether this is the outermost guard, which puts things back.
    outermost: bool,
}

impl KeyMode {
    /// Switches the terminal at the standard input over.
    ///
    /// # Errors
    /// When the standard input is no terminal.
    pub fn hold() -> io::Result<KeyMode> {
        HOOK.call_once(restore_on_panic);
        let Ok(mut before) = BEFORE.lock() else { return Ok(KeyMode { outermost: false }) };
        if before.is_some() {
            return Ok(KeyMode { outermost: false });
        }
        let old = tcgetattr(io::stdin())?;
        let mut new = old.clone();
        new.local_modes &= !(LocalModes::ICANON | LocalModes::ECHO | LocalModes::ISIG);
        tcsetattr(io::stdin(), OptionalActions::Drain, &new)?;
        *before = Some(old);
        Ok(KeyMode { outermost: true })
    }

    /// Forgets keys that were typed before the question stood there.
    pub fn forget_typed_ahead(&self) {
        let _ = tcflush(io::stdin(), QueueSelector::IFlush);
    }
}

impl Drop for KeyMode {
    fn drop(&mut self) {
        if self.outermost {
            restore();
        }
    }
}

/// Whether a key comes within `span`; a signal cuts the waiting short.
pub(super) fn key_comes(span: Duration) -> io::Result<bool> {
    let limit = Timespec::try_from(span).unwrap_or(Timespec { tv_sec: 1, tv_nsec: 0 });
    let stdin = io::stdin();
    let mut fds = [PollFd::new(&stdin, PollFlags::IN)];
    match poll(&mut fds, Some(&limit)) {
        Ok(count) => Ok(count > 0),
        Err(rustix::io::Errno::INTR) => Ok(false),
        Err(error) => Err(error.into()),
    }
}

/// The bytes of the keys that lie ready; call it after [`key_comes`], or it waits.
pub(super) fn keys_ready() -> io::Result<Vec<u8>> {
    let mut bytes = [0; 256];
    match rustix::io::read(io::stdin(), &mut bytes) {
        Ok(0) => Err(io::ErrorKind::UnexpectedEof.into()),
        Ok(count) => Ok(bytes[..count].to_vec()),
        Err(rustix::io::Errno::INTR | rustix::io::Errno::AGAIN) => Ok(Vec::new()),
        Err(error) => Err(error.into()),
    }
}

/// Puts the terminal back as it was and shows the cursor.
fn restore() {
    // Not `lock`: on a panic within the guard the lock may be held.
    if let Ok(mut before) = BEFORE.try_lock()
        && let Some(old) = before.take()
    {
        let _ = tcsetattr(io::stdin(), OptionalActions::Drain, &old);
        let _ = Term::stdout().show_cursor();
    }
}

fn restore_on_panic() {
    let earlier = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |panic| {
        restore();
        earlier(panic);
    }));
}
