//! A file, pipe or terminal that is read without waiting longer than asked.

use std::fs::File;
use std::io::{self, IsTerminal};
use std::os::fd::{AsFd, OwnedFd};
use std::time::Duration;

use rustix::event::{PollFd, PollFlags, Timespec, poll};
use rustix::io::Errno;
use rustix::termios::{QueueSelector, tcflush};

/// What is read from.
#[derive(Debug)]
pub(crate) struct InputFile {
    file: File,
    terminal: bool,
}

impl InputFile {
    /// The standard input. Nothing else may read it.
    pub(crate) fn standard() -> io::Result<InputFile> {
        Ok(InputFile::of(io::stdin().as_fd().try_clone_to_owned()?))
    }

    /// Any file, pipe or terminal.
    pub(crate) fn of(file: impl Into<OwnedFd>) -> InputFile {
        let file = File::from(file.into());
        InputFile { terminal: file.is_terminal(), file }
    }

    /// Whether a person types here.
    pub(crate) fn is_terminal(&self) -> bool {
        self.terminal
    }

    /// Waits until a read would not block; `false` when `span` passed first, or a signal came.
    pub(crate) fn readable(&mut self, span: Duration) -> io::Result<bool> {
        readable(&self.file, span)
    }

    /// Reads what there is after [`InputFile::readable`]; `Some(0)` at the end, `None` when there was nothing.
    pub(crate) fn read(&mut self, bytes: &mut [u8]) -> io::Result<Option<usize>> {
        match rustix::io::read(&self.file, bytes) {
            Ok(count) => Ok(Some(count)),
            Err(Errno::INTR | Errno::AGAIN) => Ok(None),
            // The terminal is gone.
            Err(Errno::IO) if self.terminal => Ok(Some(0)),
            Err(error) => Err(error.into()),
        }
    }

    /// Forgets what a person typed at a terminal before being asked.
    pub(crate) fn forget_typed_ahead(&mut self) {
        let _ = tcflush(&self.file, QueueSelector::IFlush);
    }
}

/// Waits until a read would not block; `false` when `span` passed first, or a signal came.
pub(super) fn readable(file: impl AsFd, span: Duration) -> io::Result<bool> {
    let limit = Timespec::try_from(span).unwrap_or(Timespec { tv_sec: 3600, tv_nsec: 0 });
    match poll(&mut [PollFd::new(&file, PollFlags::IN)], Some(&limit)) {
        Ok(count) => Ok(count > 0),
        Err(Errno::INTR) => Ok(false),
        Err(error) => Err(error.into()),
    }
}
