//! A play at a pace that can be read: answers appear as if typed, blocks after a short rest.
//!
//! Only on a terminal; into a pipe or a file everything goes at once, unchanged.

use std::io::{self, Write};
use std::time::Duration;

use super::signals::Signals;
use crate::clock::Clock;

/// Between two characters of an answer.
const KEY: Duration = Duration::from_millis(20);
/// Before an answer, while the question is read.
const THINK: Duration = Duration::from_millis(450);
/// After a block.
const REST: Duration = Duration::from_millis(200);

/// An output that goes at a readable pace.
///
/// Whoever writes through it flushes after each block and each question. What comes after a
/// flush in the middle of a line is an answer and is typed out.
pub(crate) struct Paced<'c, W> {
    inner: W,
    clock: &'c dyn Clock,
    signals: Signals,
    live: bool,
    in_line: bool,
    answering: bool,
}

impl<'c, W: Write> Paced<'c, W> {
    /// Writes to `inner`; rests, by the machine's clock, only when `live` (it is a terminal).
    pub(crate) fn new(inner: W, clock: &'c dyn Clock, signals: Signals, live: bool) -> Paced<'c, W> {
        Paced { inner, clock, signals, live, in_line: false, answering: false }
    }

    fn rest(&self, span: Duration) -> io::Result<()> {
        if self.live && !self.signals.arrived() {
            self.clock.pass(span);
        }
        if self.signals.arrived() { Err(io::ErrorKind::Interrupted.into()) } else { Ok(()) }
    }

    fn type_out(&mut self, bytes: &[u8]) -> io::Result<()> {
        for piece in bytes.split_inclusive(|byte| byte & 0xC0 != 0x80) {
            self.inner.write_all(piece)?;
            self.inner.flush()?;
            self.rest(KEY)?;
        }
        Ok(())
    }
}

impl<W: Write> Write for Paced<'_, W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.write_all(bytes)?;
        Ok(bytes.len())
    }

    // Written out, because the usual one tries again for ever when a write is interrupted.
    fn write_all(&mut self, bytes: &[u8]) -> io::Result<()> {
        if self.signals.arrived() {
            return Err(io::ErrorKind::Interrupted.into());
        }
        if self.answering && self.live {
            self.type_out(bytes)?;
        } else {
            self.inner.write_all(bytes)?;
        }
        if let Some(last) = bytes.last() {
            self.in_line = *last != b'\n';
            self.answering = false;
        }
        Ok(())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.inner.flush()?;
        self.answering = self.in_line;
        self.rest(if self.in_line { THINK } else { REST })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::{Moment, SetClock};

    fn clock() -> SetClock {
        SetClock::at(Moment::parse("2031-04-05T09:00:00-05:00").unwrap())
    }

    fn a_question(paced: &mut impl Write) -> io::Result<()> {
        paced.write_all(b"  temperature >")?;
        paced.flush()?;
        paced.write_all(" 20 °C\n".as_bytes())?;
        paced.flush()
    }

    #[test]
    fn the_bytes_are_the_same_and_only_a_terminal_waits() {
        for (live, expected) in [(true, THINK + KEY * 7 + REST), (false, Duration::ZERO)] {
            let clock = clock();
            let mut output = Vec::new();
            a_question(&mut Paced::new(&mut output, &clock, Signals::none(), live)).unwrap();
            assert_eq!(String::from_utf8(output).unwrap(), "  temperature > 20 °C\n");
            assert_eq!(clock.running(), expected);
        }
    }

    #[test]
    fn a_signal_ends_it() {
        let clock = clock();
        let signals = Signals::none();
        let mut paced = Paced::new(Vec::new(), &clock, signals.clone(), true);
        signals.raise();
        assert_eq!(a_question(&mut paced).unwrap_err().kind(), io::ErrorKind::Interrupted);
    }
}
