//! A string that stands in a TOML text, and the way back from a place in it to the file.

use super::{Fault, SourceText, Span};

/// A decoded string with the place of its literal, quotes included.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quoted {
    /// The text it stands in.
    pub source: SourceText,
    /// The decoded string.
    pub text: String,
    /// The literal's place in the source.
    pub span: Span,
}

impl Quoted {
    /// Where in the file a span of the decoded string stands.
    ///
    /// ```
    /// use tankhand::source::{Quoted, SourceText, Span};
    /// let source = SourceText::new("x.toml", r#"do = "a\tb {c}""#);
    /// let quoted = Quoted { source, text: "a\tb {c}".into(), span: Span::new(5, 15) };
    /// let place = quoted.place(Span::new(4, 7));
    /// assert_eq!(quoted.source.slice(place), "{c}");
    /// ```
    pub fn place(&self, inner: Span) -> Span {
        let raw = self.source.slice(self.span);
        if raw == self.text {
            // It stands there bare, and a quote it begins with is its own.
            return Span::new(self.span.start + inner.start, self.span.start + inner.end);
        }
        let start = raw_offset(raw, inner.start);
        let end = raw_offset(raw, inner.end).max(start);
        Span::new(self.span.start + start, self.span.start + end)
    }

    /// A fault about the whole of it.
    ///
    /// ```
    /// use tankhand::source::{Quoted, SourceText, Span};
    /// let source = SourceText::new("x.toml", "do = 'See.'");
    /// let quoted = Quoted { source, text: "See.".into(), span: Span::new(5, 11) };
    /// assert_eq!(quoted.fault("empty", "this is empty").heading(), "x.toml:1:6: this is empty");
    /// ```
    pub fn fault(&self, code: &'static str, message: impl Into<String>) -> Fault {
        Fault::new(code, &self.source, self.span, message)
    }

    /// A part of the string, with its own place.
    ///
    /// ```
    /// use tankhand::source::{Quoted, SourceText, Span};
    /// let source = SourceText::new("x.toml", r#"needs = ["off if lever"]"#);
    /// let quoted = Quoted { source, text: "off if lever".into(), span: Span::new(9, 23) };
    /// let state = quoted.part(0..3);
    /// assert_eq!((state.text.as_str(), state.source.slice(state.span)), ("off", "off"));
    /// ```
    pub fn part(&self, inner: std::ops::Range<usize>) -> Quoted {
        let text = self.text.get(inner.clone()).unwrap_or_default().to_string();
        Quoted { source: self.source.clone(), text, span: self.place(inner.into()) }
    }
}

/// The offset in a raw literal at which the decoded byte `wanted` begins.
fn raw_offset(raw: &str, sought: usize) -> usize {
    let (open, escapes) = match raw {
        r if r.starts_with("\"\"\"") => (3, true),
        r if r.starts_with("'''") => (3, false),
        r if r.starts_with('"') => (1, true),
        r if r.starts_with('\'') => (1, false),
        _ => (0, false),
    };
    let mut at = open;
    if open == 3 {
        at += newline_length(&raw[at..]);
    }
    let mut decoded = 0;
    while let Some(c) = raw[at..].chars().next() {
        let (raw_length, length) = match c {
            '\\' if escapes => escape(&raw[at..]),
            c => (c.len_utf8(), c.len_utf8()),
        };
        // A backslash at a line's end stands for nothing: what follows it is what is meant.
        if decoded >= sought && length > 0 {
            break;
        }
        at += raw_length;
        decoded += length;
    }
    at.min(raw.len().saturating_sub(open))
}

fn newline_length(rest: &str) -> usize {
    if rest.starts_with("\r\n") { 2 } else { usize::from(rest.starts_with('\n')) }
}

/// Raw and decoded length of the escape that `rest` starts with.
fn escape(rest: &str) -> (usize, usize) {
    let hex = |digits: usize| {
        let code = rest.get(2..2 + digits).and_then(|d| u32::from_str_radix(d, 16).ok());
        (2 + digits, code.and_then(char::from_u32).map_or(1, char::len_utf8))
    };
    match rest[1..].chars().next() {
        Some('u') => hex(4),
        Some('U') => hex(8),
        Some('x') => hex(2),
        Some(c) if c.is_whitespace() => {
            let blank = rest[1..].len() - rest[1..].trim_start().len();
            (1 + blank, 0)
        }
        Some(c) => (1 + c.len_utf8(), 1),
        None => (1, 0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_found_in_every_form_of_string() {
        let forms = [
            "\"ab X cd\"",
            "'ab X cd'",
            "\"\"\"\nab X cd\"\"\"",
            "'''\r\nab X cd'''",
            "\"\"\"ab \\\n    X cd\"\"\"",
            "\"\\u00e9 X\"",
            "\"\\t\\\\ X\"",
            "\"\\x41 X\"",
            "\"\\U0001F4A7 X\"",
        ];
        for raw in forms {
            let document = format!("k = {raw}\n");
            let table = toml::de::DeTable::parse(&document).unwrap();
            let value = table.get_ref().get("k").unwrap();
            let text = value.get_ref().as_str().unwrap().to_string();
            let at = text.find('X').unwrap();
            let source = SourceText::new("k.toml", document.as_str());
            let quoted = Quoted { source, text, span: value.span().into() };
            assert_eq!(quoted.source.slice(quoted.place(Span::new(at, at + 1))), "X", "in {raw}");
        }
    }
}
