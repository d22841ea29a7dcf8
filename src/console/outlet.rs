//! The one writer through which text reaches a terminal.
//!
//! Whatever a path, a name in a record, a variable or a file holds: nothing that could command the
//! terminal, hide text or turn its direction goes through. Of escapes only colours do, and only where
//! colour is used. (The rich face moves the cursor besides, by its crates; its texts are made harmless
//! before.)

use std::io::{self, Stderr, Stdout, Write};

use crate::words::harmless;

/// The longest escape of a colour; what is longer is none.
const LONGEST_ESCAPE: usize = 24;

/// Hands text on without anything harmful in it.
#[derive(Debug)]
pub struct Outlet<W: Write> {
    inner: W,
    colour: bool,
    /// The beginning of a character or of an escape, the rest of which is still to come.
    held: Vec<u8>,
}

impl Outlet<Stdout> {
    /// To the standard output; `colour` when colours may go through.
    pub fn output(colour: bool) -> Outlet<Stdout> {
        Outlet::new(io::stdout(), colour)
    }
}

impl Outlet<Stderr> {
    /// To the standard error output, likewise.
    pub fn errors(colour: bool) -> Outlet<Stderr> {
        Outlet::new(io::stderr(), colour)
    }
}

impl<W: Write> Outlet<W> {
    /// To another writer.
    ///
    /// ```
    /// use std::io::Write;
    /// use tankhand::console::Outlet;
    /// let mut seen = Vec::new();
    /// write!(Outlet::new(&mut seen, false), "tank\u{1b}[2J {}", "\u{202e}niam").unwrap();
    /// assert_eq!(String::from_utf8(seen).unwrap(), "tank\u{fffd}[2J \u{fffd}niam");
    /// ```
    pub fn new(inner: W, colour: bool) -> Outlet<W> {
        Outlet { inner, colour, held: Vec::new() }
    }

    /// Writes what there is of whole characters and whole escapes, and holds the rest.
    fn pass_on(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.held.extend_from_slice(bytes);
        let held = std::mem::take(&mut self.held);
        let mut rest = held.as_slice();
        while let Some(at) = rest.iter().position(|byte| matches!(byte, b'\x1b' | b'\r')) {
            self.text(&rest[..at])?;
            rest = &rest[at..];
            match special(rest) {
                Special::Colour(length) if self.colour => {
                    self.inner.write_all(&rest[..length])?;
                    rest = &rest[length..];
                }
                Special::LineEnd => {
                    self.inner.write_all(b"\r\n")?;
                    rest = &rest[2..];
                }
                Special::Begun => {
                    self.held = rest.to_vec();
                    return Ok(());
                }
                Special::Colour(_) | Special::Other => {
                    self.text(&rest[..1])?;
                    rest = &rest[1..];
                }
            }
        }
        let whole = whole_characters(rest);
        self.text(&rest[..whole])?;
        self.held = rest[whole..].to_vec();
        Ok(())
    }

    fn text(&mut self, bytes: &[u8]) -> io::Result<()> {
        let plain = |byte: &u8| matches!(byte, b' '..=b'~' | b'\n' | b'\t');
        if bytes.iter().all(plain) {
            return self.inner.write_all(bytes);
        }
        self.inner.write_all(harmless(&String::from_utf8_lossy(bytes)).as_bytes())
    }
}

impl<W: Write> Write for Outlet<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        // The bell is rung by itself, never within a text.
        if bytes == b"\x07" {
            self.inner.write_all(bytes)?;
            return Ok(bytes.len());
        }
        self.pass_on(bytes)?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.inner.flush()
    }
}

impl<W: Write> Drop for Outlet<W> {
    /// What was held and never made whole is shown as a sign that something stood there.
    fn drop(&mut self) {
        let held = std::mem::take(&mut self.held);
        let _ = self.text(&held);
    }
}

/// What begins with an escape or a carriage return.
enum Special {
    /// A colour, so many bytes long.
    Colour(usize),
    /// The two bytes of a line end.
    LineEnd,
    /// It cannot be told yet.
    Begun,
    /// Anything else.
    Other,
}

fn special(bytes: &[u8]) -> Special {
    match bytes {
        [b'\r', b'\n', ..] => Special::LineEnd,
        [b'\r' | b'\x1b'] => Special::Begun,
        [b'\x1b', b'[', after @ ..] => {
            let numbers = after.iter().take_while(|byte| matches!(byte, b'0'..=b'9' | b';')).count();
            match after.get(numbers) {
                Some(b'm') if are_colours(&after[..numbers]) => Special::Colour(numbers + 3),
                None if numbers < LONGEST_ESCAPE => Special::Begun,
                _ => Special::Other,
            }
        }
        _ => Special::Other,
    }
}

/// Whether the numbers of an escape stand for colours, weight or slant, and hide nothing.
fn are_colours(numbers: &[u8]) -> bool {
    let shows = |number: &[u8]| match std::str::from_utf8(number).unwrap_or_default() {
        "" => true,
        number => matches!(number.parse(), Ok(0..=4 | 7 | 22..=24 | 27 | 30..=37 | 39 | 90..=97)),
    };
    numbers.len() < LONGEST_ESCAPE && numbers.split(|byte| *byte == b';').all(shows)
}

/// How many bytes make whole characters; what never can counts as whole.
fn whole_characters(bytes: &[u8]) -> usize {
    let last = bytes.iter().rposition(|byte| byte & 0xC0 != 0x80).unwrap_or(0);
    match std::str::from_utf8(&bytes[last..]) {
        Err(error) if error.error_len().is_none() => last + error.valid_up_to(),
        _ => bytes.len(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What comes out when it is written in pieces of so many bytes.
    fn shown(text: &str, colour: bool, piece: usize) -> String {
        let mut seen = Vec::new();
        let mut outlet = Outlet::new(&mut seen, colour);
        text.as_bytes().chunks(piece).for_each(|piece| outlet.write_all(piece).unwrap());
        drop(outlet);
        String::from_utf8(seen).unwrap()
    }

    #[test]
    fn colours_go_through_where_colour_is_used_and_nothing_else_does() {
        let table = [
            ("80 °F ± 1\n\tx\r\n", "80 °F ± 1\n\tx\r\n", "80 °F ± 1\n\tx\r\n"),
            ("\u{1b}[1;31mred\u{1b}[0m", "\u{1b}[1;31mred\u{1b}[0m", "�[1;31mred�[0m"),
            // Hidden text, a cleared screen, a title, a link, a carriage return that covers a line.
            ("\u{1b}[8mx\u{1b}[2J", "�[8mx�[2J", "�[8mx�[2J"),
            ("\u{1b}]0;x\u{7}\u{1b}]8;;y\u{1b}\\\\", "�]0;x��]8;;y�\\\\", "�]0;x��]8;;y�\\\\"),
            ("safe\rharm", "safe�harm", "safe�harm"),
            ("\u{9b}2J \u{ad}\u{3164}\u{e0041}\u{fff9}", "�2J ����", "�2J ����"),
            ("cut \u{1b}[3", "cut �[3", "cut �[3"),
        ];
        for (text, coloured, plain) in table {
            // A bell by itself is rung, so pieces have two bytes at least.
            for piece in 2..=text.len() {
                assert_eq!(shown(text, true, piece), coloured, "{text:?} by {piece}");
                assert_eq!(shown(text, false, piece), plain, "{text:?} by {piece}");
            }
        }
    }

    #[test]
    fn what_is_no_text_is_shown_as_a_sign() {
        let mut seen = Vec::new();
        Outlet::new(&mut seen, true).write_all(b"a\xffb\xe2\x82").unwrap();
        assert_eq!(String::from_utf8(seen).unwrap(), "a�b�");
    }
}
