//! The line that a slip stands in, and what was meant.

use std::fmt::Display;

/// The line at which a parser stopped.
pub(in crate::document) struct SlipLine<'a> {
    /// The whole line.
    pub text: &'a str,
    /// Before the first `=` outside of quotes, without spaces; the whole line where there is none.
    pub key: &'a str,
    /// Behind that `=`, without spaces and comment; `None` where there is none.
    pub value: Option<&'a str>,
    /// What the parser said.
    pub said: &'a str,
    /// The line before it that is not empty.
    pub above: &'a str,
    /// The line after it.
    pub below: &'a str,
}

/// What was meant.
#[derive(Debug)]
pub(in crate::document) struct Slip {
    /// What is wrong, in a sentence without a full stop.
    pub message: String,
    /// The characters of the line that it is about.
    pub about: String,
    /// What to write.
    pub remedy: String,
    /// Whether what follows in the file is only misread because of it.
    pub runs_on: bool,
}

impl Slip {
    pub(super) fn new(message: impl Into<String>, about: &str, remedy: impl Into<String>) -> Slip {
        Slip { message: message.into(), about: about.to_string(), remedy: remedy.into(), runs_on: false }
    }

    pub(super) fn running_on(self) -> Slip {
        Slip { runs_on: true, ..self }
    }
}

impl<'a> SlipLine<'a> {
    /// The line from `start` to `end` of a whole text.
    pub(super) fn of(whole: &'a str, (start, end): (usize, usize), said: &'a str) -> SlipLine<'a> {
        let text = whole[start..end].trim_end_matches('\r');
        let above = whole[..start].lines().rfind(|line| !line.trim().is_empty()).unwrap_or("").trim();
        let below = whole[end..].lines().nth(1).unwrap_or("").trim();
        let (key, value) = match outside_quotes(text, '=') {
            Some(at) => (&text[..at], Some(without_comment(&text[at + 1..]).trim())),
            None => (without_comment(text), None),
        };
        SlipLine { text, key: key.trim(), value, said, above, below }
    }

    /// To write the line with another value.
    pub(super) fn write(&self, value: impl Display) -> String {
        format!("write `{} = {value}`", self.key)
    }
}

/// Where a sign first stands outside of straight quotes.
fn outside_quotes(text: &str, sign: char) -> Option<usize> {
    let mut open: Option<char> = None;
    for (at, c) in text.char_indices() {
        match open {
            Some(quote) if c == quote => open = None,
            Some(_) => {}
            None if c == sign => return Some(at),
            None if matches!(c, '"' | '\'') => open = Some(c),
            None => {}
        }
    }
    None
}

fn without_comment(text: &str) -> &str {
    outside_quotes(text, '#').map_or(text, |at| &text[..at])
}
