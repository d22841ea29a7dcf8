//! The terminal's key mode while a person is waited for.
//!
//! The prompts set the terminal raw for each key and back in between; what is typed in between
//! would be echoed into the page, and a signal would leave the terminal without echo or cursor.
//! So one guard switches line editing and echo off for as long as a question stands, and puts
//! everything back when it is dropped, also on a panic. Ctrl-C, Ctrl-Z and Ctrl-D come as signals then,
//! which only raise flags.

use std::io;
use std::sync::{Mutex, Once};
use std::time::Duration;

use console::Term;
use rustix::termios::{
    LocalModes, OptionalActions, QueueSelector, SpecialCodeIndex, Termios, tcflush, tcgetattr, tcsetattr,
};
use signal_hook::consts::SIGTSTP;

use super::input::readable;

/// How the terminal was before; `Some` while a guard is held.
static BEFORE: Mutex<Option<Termios>> = Mutex::new(None);

/// Installs the panic hook once.
static HOOK: Once = Once::new();

/// Ctrl-D, for which the quit signal comes while the key mode is held.
const CTRL_D: u8 = 0x04;

/// While this lives, keys come one by one and unseen.
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
        new.local_modes &= !(LocalModes::ICANON | LocalModes::ECHO);
        new.special_codes[SpecialCodeIndex::VQUIT] = CTRL_D;
        tcsetattr(io::stdin(), OptionalActions::Drain, &new)?;
        *before = Some(old);
        Ok(KeyMode { outermost: true })
    }

    /// Forgets keys that were typed before the question stood there.
    pub fn forget_typed_ahead(&self) {
        let _ = tcflush(io::stdin(), QueueSelector::IFlush);
    }
}

/// Stops the program as Ctrl-Z does, the terminal as it was before, and takes the key mode up again when
/// it is called back.
pub(crate) fn stop_until_called() -> io::Result<()> {
    let held = tcgetattr(io::stdin())?;
    let before = BEFORE.lock().ok().and_then(|before| before.clone());
    if let Some(before) = &before {
        tcsetattr(io::stdin(), OptionalActions::Drain, before)?;
    }
    let _ = Term::stdout().show_cursor();
    signal_hook::low_level::emulate_default_handler(SIGTSTP)?;
    tcsetattr(io::stdin(), OptionalActions::Drain, &held)?;
    Ok(())
}

impl Drop for KeyMode {
    fn drop(&mut self) {
        if self.outermost {
            restore();
        }
    }
}

/// Whether a key comes within `span`; a signal cuts the waiting short.
pub(crate) fn key_comes(span: Duration) -> io::Result<bool> {
    readable(io::stdin(), span)
}

/// The bytes of the keys that lie ready; call it after [`key_comes`], or it waits.
pub(crate) fn keys_ready() -> io::Result<Vec<u8>> {
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
