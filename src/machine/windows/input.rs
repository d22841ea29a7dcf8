//! A file, pipe or console that is read without waiting longer than asked: a thread of its own waits.

use std::io::{self, IsTerminal, Read};
use std::os::windows::io::AsHandle;
use std::sync::mpsc::{Receiver, RecvTimeoutError, SyncSender, sync_channel};
use std::thread;
use std::time::Duration;

/// What is read from.
#[derive(Debug)]
pub(crate) struct InputFile {
    pieces: Receiver<io::Result<Vec<u8>>>,
    /// What has come and was not yet read; an empty piece is the end.
    next: Option<io::Result<Vec<u8>>>,
    terminal: bool,
}

impl InputFile {
    /// The standard input. Nothing else may read it.
    pub(crate) fn standard() -> io::Result<InputFile> {
        // Not as a file: what is typed at a console comes as text only by way of the library.
        Ok(InputFile::of(io::stdin()))
    }

    /// Any file, pipe or console.
    pub(crate) fn of(from: impl Read + AsHandle + Send + 'static) -> InputFile {
        InputFile { terminal: from.as_handle().is_terminal(), pieces: read_along(from), next: None }
    }

    /// Whether a person types here.
    pub(crate) fn is_terminal(&self) -> bool {
        self.terminal
    }

    /// Waits until there is something to read; `false` when `span` passed first.
    pub(crate) fn readable(&mut self, span: Duration) -> io::Result<bool> {
        if self.next.is_none() {
            self.next = match self.pieces.recv_timeout(span) {
                Ok(piece) => Some(piece),
                Err(RecvTimeoutError::Timeout) => None,
                Err(RecvTimeoutError::Disconnected) => Some(Ok(Vec::new())),
            };
        }
        Ok(self.next.is_some())
    }

    /// Reads what there is after [`InputFile::readable`]; `Some(0)` at the end, `None` when there was nothing.
    pub(crate) fn read(&mut self, bytes: &mut [u8]) -> io::Result<Option<usize>> {
        let Some(piece) = self.next.take() else { return Ok(None) };
        let piece = piece?;
        let count = piece.len().min(bytes.len());
        bytes[..count].copy_from_slice(&piece[..count]);
        self.next = Some(piece[count..].to_vec()).filter(|rest| !rest.is_empty()).map(Ok);
        Ok(Some(count))
    }

    /// Forgets what a person typed at a console before being asked.
    pub(crate) fn forget_typed_ahead(&mut self) {
        self.next = None;
        while self.pieces.try_recv().is_ok() {}
    }
}

/// Reads in a thread that ends with the program.
fn read_along(mut from: impl Read + Send + 'static) -> Receiver<io::Result<Vec<u8>>> {
    let (pieces, received): (SyncSender<io::Result<Vec<u8>>>, _) = sync_channel(16);
    thread::spawn(move || {
        let mut bytes = [0; 4096];
        loop {
            let piece = from.read(&mut bytes).map(|count| bytes[..count].to_vec());
            let ended = !piece.as_ref().is_ok_and(|piece| !piece.is_empty());
            if pieces.send(piece).is_err() || ended {
                return;
            }
        }
    });
    received
}
