//! Lines from a person or a pipe, with bounded memory and hostile bytes caught.

use std::io;
use std::time::Duration;

use super::line::{GatheredLine, InputLine, LONGEST_LINE};
use super::signals::Signals;
use crate::machine::InputFile;

/// What waiting for input found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ready {
    /// Something to read.
    Line,
    /// Nothing yet.
    Nothing,
    /// There is nothing more to come.
    End,
}

/// How long one wait lasts at most, so that a signal that came just before it is seen.
const LONGEST_WAIT_FOR_INPUT: Duration = Duration::from_millis(500);

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

    /// Reads a pipe in its place.
    pub fn piped(pipe: io::PipeReader, signals: Signals) -> StandardInput {
        StandardInput::reading(InputFile::of(pipe), signals)
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

    /// Waits for the next line.
    ///
    /// # Errors
    /// When reading fails; [`io::ErrorKind::Interrupted`] when the program was told to end.
    pub(super) fn line(&mut self) -> io::Result<InputLine> {
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
            if self.readable(LONGEST_WAIT_FOR_INPUT)? {
                self.read_more()?;
            }
        }
    }

    /// Waits at most `span` for something to read. `End` and `InputLine` come at once, without waiting.
    ///
    /// # Errors
    /// As for [`StandardInput::line`].
    pub(super) fn wait(&mut self, span: Duration) -> io::Result<Ready> {
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

    /// Whether a person types here and sees it.
    pub(super) fn is_terminal(&self) -> bool {
        self.file.is_terminal()
    }

    /// Forgets what a person typed before being asked; does nothing to a pipe.
    pub(super) fn forget_typed_ahead(&mut self) {
        if self.file.is_terminal() {
            self.held.clear();
            self.file.forget_typed_ahead();
        }
    }

    /// Whether more was typed or pasted already behind the line just read; never of a pipe.
    ///
    /// # Errors
    /// As for [`StandardInput::line`].
    pub(super) fn more_lies_ready(&mut self) -> io::Result<bool> {
        Ok(self.file.is_terminal() && (!self.held.is_empty() || self.readable(Duration::ZERO)?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::io::Write;

    fn all(mut input: StandardInput) -> Vec<InputLine> {
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

    /// The lines of a text in memory.
    fn expected(bytes: &[u8]) -> Vec<InputLine> {
        let whole = bytes.strip_suffix(b"\n").unwrap_or(bytes);
        let line = |bytes: &[u8]| match std::str::from_utf8(bytes) {
            Ok(line) => {
                let line = line.strip_prefix('\u{feff}').unwrap_or(line);
                text(line.strip_suffix('\r').unwrap_or(line))
            }
            Err(_) => InputLine::NotText,
        };
        if bytes.is_empty() { Vec::new() } else { whole.split(|byte| *byte == b'\n').map(line).collect() }
    }

    #[test]
    fn lines_come_whatever_their_ends() {
        let bytes = b"\xef\xbb\xbf38\r\n\nlast";
        assert_eq!(all(piped(bytes)), [text("38"), text(""), text("last")]);
        assert_eq!(expected(bytes), [text("38"), text(""), text("last")]);
    }

    #[test]
    fn hostile_lines_are_named_and_the_next_one_is_sound() {
        let mut bytes = vec![b'x'; 3 * LONGEST_LINE];
        bytes.extend_from_slice(b"\n\xff\xfe\n38\n");
        let expected = [InputLine::TooLong, InputLine::NotText, text("38")];
        assert_eq!(all(piped(&bytes)), expected);
        let longest = "y".repeat(LONGEST_LINE);
        assert_eq!(all(piped(longest.as_bytes())), [text(&longest)]);
    }

    #[test]
    fn waiting_tells_a_line_from_nothing_and_from_the_end() {
        let (reader, mut writer) = std::io::pipe().unwrap();
        let mut input = StandardInput::reading(InputFile::of(reader), Signals::none());
        let wait = |input: &mut StandardInput| input.wait(Duration::from_millis(1)).unwrap();
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
        fn any_bytes_are_read_as_their_lines(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
            prop_assert_eq!(all(piped(&bytes)), expected(&bytes));
        }
    }
}
