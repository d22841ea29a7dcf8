//! Lines from a person, a pipe or a text in memory, with bounded memory and hostile bytes caught.

use std::io::{self, BufRead};
use std::time::Duration;

use super::line::{GatheredLine, InputLine, LONGEST_LINE};
use super::signals::Signals;
use crate::clock::Clock;
use crate::machine::InputFile;

/// What waiting for input found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ready {
    /// Something to read.
    Line,
    /// Nothing yet.
    Nothing,
    /// There is nothing more to come.
    End,
}

/// Where lines come from.
pub trait Input {
    /// Waits for the next line.
    ///
    /// # Errors
    /// When reading fails; [`io::ErrorKind::Interrupted`] when the program was told to end.
    fn line(&mut self) -> io::Result<InputLine>;

    /// Waits at most `span` for something to read. `End` and `InputLine` come at once, without waiting.
    ///
    /// # Errors
    /// As for [`Input::line`].
    fn wait(&mut self, span: Duration, clock: &dyn Clock) -> io::Result<Ready>;

    /// Whether a person types here and sees it.
    fn is_terminal(&self) -> bool;

    /// Forgets what a person typed before being asked; does nothing to a pipe.
    fn forget_typed_ahead(&mut self);

    /// Whether more was typed or pasted already behind the line just read; never of a pipe.
    ///
    /// # Errors
    /// As for [`Input::line`].
    fn more_lies_ready(&mut self) -> io::Result<bool>;
}

/// A text in memory, or any other reader that needs no waiting.
impl<R: BufRead> Input for R {
    fn line(&mut self) -> io::Result<InputLine> {
        let mut gathered = GatheredLine::default();
        loop {
            let bytes = self.fill_buf()?;
            if bytes.is_empty() {
                return Ok(gathered.at_end());
            }
            let (used, whole) = gathered.take(bytes);
            self.consume(used);
            if whole {
                return Ok(gathered.line());
            }
        }
    }

    fn wait(&mut self, _: Duration, _: &dyn Clock) -> io::Result<Ready> {
        Ok(if self.fill_buf()?.is_empty() { Ready::End } else { Ready::Line })
    }

    fn is_terminal(&self) -> bool {
        false
    }

    fn forget_typed_ahead(&mut self) {}

    fn more_lies_ready(&mut self) -> io::Result<bool> {
        Ok(false)
    }
}

/// The standard input, read in a way that signals and time limits can break off.
#[derive(Debug)]
pub struct StandardInput {
    file: InputFile,
    signals: Signals,
    held: Vec<u8>,
    ended: bool,
}

impl StandardInput {
    /// Reads the standard input. Nothing else may read it.
    ///
    /// # Errors
    /// When the standard input cannot be had.
    pub fn new(signals: Signals) -> io::Result<StandardInput> {
        Ok(StandardInput::reading(InputFile::standard()?, signals))
    }

    fn reading(file: InputFile, signals: Signals) -> StandardInput {
        StandardInput { file, signals, held: Vec::new(), ended: false }
    }

    /// Waits until a read would not block; `false` when `span` passed first.
    fn readable(&mut self, span: Duration) -> io::Result<bool> {
        let readable = self.file.readable(span);
        if self.signals.arrived() {
            return Err(io::ErrorKind::Interrupted.into());
        }
        readable
    }

    /// Whether a whole line is held, or more than a line may be.
    fn holds_line(&self) -> bool {
        self.held.contains(&b'\n') || self.held.len() > LONGEST_LINE
    }

    /// Reads what there is after [`StandardInput::readable`].
    fn read_more(&mut self) -> io::Result<()> {
        let mut bytes = [0; 4096];
        match self.file.read(&mut bytes)? {
            Some(0) => self.ended = true,
            count => self.held.extend_from_slice(&bytes[..count.unwrap_or(0)]),
        }
        Ok(())
    }
}

/// How long one wait lasts at most, so that a signal that came just before it is seen.
const LOOK_AGAIN: Duration = Duration::from_millis(500);

impl Input for StandardInput {
    fn line(&mut self) -> io::Result<InputLine> {
        let mut gathered = GatheredLine::default();
        loop {
            let (used, whole) = gathered.take(&self.held);
            self.held.drain(..used);
            if whole {
                return Ok(gathered.line());
            }
            if self.ended {
                // A person who typed Ctrl-D may go on typing later; a pipe may not.
                self.ended = !self.file.is_terminal();
                return Ok(gathered.at_end());
            }
            if self.readable(LOOK_AGAIN)? {
                self.read_more()?;
            }
        }
    }

    fn wait(&mut self, span: Duration, _: &dyn Clock) -> io::Result<Ready> {
        if !self.ended && !self.holds_line() && self.readable(span)? {
            self.read_more()?;
        }
        Ok(match self.ended {
            _ if self.holds_line() => Ready::Line,
            true if self.held.is_empty() => Ready::End,
            true => Ready::Line,
            false => Ready::Nothing,
        })
    }

    fn is_terminal(&self) -> bool {
        self.file.is_terminal()
    }

    fn forget_typed_ahead(&mut self) {
        if self.file.is_terminal() {
            self.held.clear();
            self.file.forget_typed_ahead();
        }
    }

    fn more_lies_ready(&mut self) -> io::Result<bool> {
        Ok(self.file.is_terminal() && (!self.held.is_empty() || self.readable(Duration::ZERO)?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::SystemClock;
    use proptest::prelude::*;
    use std::io::Write;

    fn all(mut input: impl Input) -> Vec<InputLine> {
        let mut lines = Vec::new();
        loop {
            match input.line().unwrap() {
                InputLine::End => return lines,
                line => lines.push(line),
            }
        }
    }

    fn text(line: &str) -> InputLine {
        InputLine::Text(line.to_string())
    }

    fn piped(bytes: &[u8]) -> StandardInput {
        let mut file = tempfile::tempfile().unwrap();
        file.write_all(bytes).unwrap();
        std::io::Seek::rewind(&mut file).unwrap();
        StandardInput::reading(InputFile::of(file), Signals::none())
    }

    #[test]
    fn lines_come_whatever_their_ends() {
        let bytes = b"\xef\xbb\xbf38\r\n\nlast";
        assert_eq!(all(&bytes[..]), [text("38"), text(""), text("last")]);
        assert_eq!(all(piped(bytes)), [text("38"), text(""), text("last")]);
    }

    #[test]
    fn hostile_lines_are_named_and_the_next_one_is_sound() {
        let mut bytes = vec![b'x'; 3 * LONGEST_LINE];
        bytes.extend_from_slice(b"\n\xff\xfe\n38\n");
        let expected = [InputLine::TooLong, InputLine::NotText, text("38")];
        assert_eq!(all(&bytes[..]), expected);
        assert_eq!(all(piped(&bytes)), expected);
        let longest = "y".repeat(LONGEST_LINE);
        assert_eq!(all(longest.as_bytes()), [text(&longest)]);
    }

    #[test]
    fn waiting_tells_a_line_from_nothing_and_from_the_end() {
        let (reader, mut writer) = std::io::pipe().unwrap();
        let mut input = StandardInput::reading(InputFile::of(reader), Signals::none());
        let wait = |input: &mut StandardInput| input.wait(Duration::from_millis(1), &SystemClock).unwrap();
        assert_eq!(wait(&mut input), Ready::Nothing);
        writer.write_all(b"ear").unwrap();
        assert_eq!(wait(&mut input), Ready::Nothing);
        writer.write_all(b"ly\n").unwrap();
        assert_eq!(wait(&mut input), Ready::Line);
        assert_eq!(input.line().unwrap(), text("early"));
        drop(writer);
        assert_eq!(wait(&mut input), Ready::End);
        assert_eq!(input.line().unwrap(), InputLine::End);
    }

    #[test]
    fn a_raised_flag_breaks_waiting_off() {
        let (reader, _writer) = std::io::pipe().unwrap();
        let signals = Signals::none();
        let mut input = StandardInput::reading(InputFile::of(reader), signals.clone());
        signals.raise();
        assert_eq!(input.line().unwrap_err().kind(), io::ErrorKind::Interrupted);
    }

    proptest! {
        #[test]
        fn both_readers_agree_on_any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
            prop_assert_eq!(all(&bytes[..]), all(piped(&bytes)));
        }
    }
}
