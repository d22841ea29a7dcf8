//! Bytes put together to a line, with bounded memory and hostile bytes caught.

/// The longest line taken, in bytes; what is beyond it is read and dropped.
pub(super) const LONGEST_LINE: usize = 64 * 1024;

/// What came in place of a line, or the line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum InputLine {
    /// A line, without its end.
    Text(String),
    /// A line longer than [`LONGEST_LINE`].
    TooLong,
    /// A line that is no UTF-8 text.
    NotText,
    /// There is nothing more.
    End,
}

/// A line being put together.
#[derive(Debug, Default)]
pub(super) struct GatheredLine {
    bytes: Vec<u8>,
    too_long: bool,
}

impl GatheredLine {
    /// Takes bytes up to the end of the line: how many, and whether the line is whole.
    pub(super) fn take(&mut self, bytes: &[u8]) -> (usize, bool) {
        let end = bytes.iter().position(|&byte| byte == b'\n');
        let part = &bytes[..end.unwrap_or(bytes.len())];
        if self.too_long || self.bytes.len() + part.len() > LONGEST_LINE {
            self.too_long = true;
            self.bytes.clear();
        } else {
            self.bytes.extend_from_slice(part);
        }
        (end.map_or(bytes.len(), |at| at + 1), end.is_some())
    }

    /// What there is when nothing more comes.
    pub(super) fn at_end(self) -> InputLine {
        if self.bytes.is_empty() && !self.too_long { InputLine::End } else { self.line() }
    }

    /// The whole line.
    pub(super) fn line(self) -> InputLine {
        if self.too_long {
            return InputLine::TooLong;
        }
        match String::from_utf8(self.bytes) {
            Ok(text) => {
                let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
                InputLine::Text(text.strip_suffix('\r').unwrap_or(text).to_string())
            }
            Err(_) => InputLine::NotText,
        }
    }
}
