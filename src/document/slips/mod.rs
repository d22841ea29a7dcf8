//! Slips of the pen in a TOML text, in plain words, each with what to write.
//!
//! The parser knows where it stopped. What was meant is read from the line it stopped in: who writes a
//! first file writes yes for true, a unit without quotes, or the quotes of a word processor.

mod lines;
mod texts;
mod values;

use crate::source::{Fault, SourceText, Span};

/// The line at which a parser stopped.
pub(super) struct SlipLine<'a> {
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
pub(super) struct Slip {
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
    pub fn new(message: impl Into<String>, about: &str, remedy: impl Into<String>) -> Slip {
        Slip { message: message.into(), about: about.to_string(), remedy: remedy.into(), runs_on: false }
    }

    pub fn running_on(self) -> Slip {
        Slip { runs_on: true, ..self }
    }
}

impl<'a> SlipLine<'a> {
    /// The line from `start` to `end` of a whole text.
    fn of(whole: &'a str, (start, end): (usize, usize), said: &'a str) -> SlipLine<'a> {
        let text = whole[start..end].trim_end_matches('\r');
        let above = whole[..start].lines().rfind(|line| !line.trim().is_empty()).unwrap_or("").trim();
        let below = whole[end..].lines().nth(1).unwrap_or("").trim();
        let (key, value) = match outside_quotes(text, '=') {
            Some(at) => (&text[..at], Some(without_comment(&text[at + 1..]).trim())),
            None => (without_comment(text), None),
        };
        SlipLine { text, key: key.trim(), value, said, above, below }
    }

    /// The line with another value.
    pub fn with(&self, value: &str) -> String {
        format!("`{} = {value}`", self.key)
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

/// The faults of a text that is no TOML: one a line, none that only follows from another.
pub(super) fn faults(source: &SourceText, errors: &[toml::de::Error]) -> Vec<Fault> {
    let mut places: Vec<(usize, &str)> =
        errors.iter().map(|error| (error.span().map_or(0, |span| span.start), error.message())).collect();
    places.sort_by_key(|(at, _)| *at);
    places.dedup_by_key(|(at, _)| source.place(*at).line);
    let mut faults = Vec::new();
    for (at, said) in places.into_iter().take(20) {
        let (fault, runs_on) = fault(source, at, said);
        faults.push(fault);
        if runs_on {
            break;
        }
    }
    faults
}

fn fault(source: &SourceText, at: usize, said: &str) -> (Fault, bool) {
    let whole = source.text();
    // A text in three quotes that is not closed runs to the end; it is told where it begins.
    let begins = whole[..at.min(whole.len())].rfind("\"\"\"").filter(|_| said.contains("multi-line"));
    let mut at = begins.unwrap_or(at).min(whole.len());
    while !whole.is_char_boundary(at) {
        at -= 1;
    }
    let start = whole[..at].rfind('\n').map_or(0, |before| before + 1);
    let end = whole[at..].find('\n').map_or(whole.len(), |after| at + after);
    let line = SlipLine::of(whole, (start, end), said);
    let text = line.text;
    let slip = lines::slip(&line).or_else(|| values::slip(&line)).or_else(|| texts::slip(&line));
    let slip = slip.unwrap_or_else(|| lines::of_no_sort(&line));
    let from = start + text.find(slip.about.as_str()).unwrap_or(text.len() - text.trim_start().len());
    let long = if slip.about.is_empty() { text.trim().len() } else { slip.about.len() };
    let span = Span::new(from, (from + long).min(start + text.len()).max(from));
    (Fault::new("toml", source, span, slip.message).remedy(slip.remedy), slip.runs_on)
}
