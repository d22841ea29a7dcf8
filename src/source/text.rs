//! A named text and places in it.

use std::ops::Deref;
use std::sync::Arc;

/// A half-open range of bytes in one [`SourceText`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Span {
    /// The span from `start` up to, not including, `end`.
    pub const fn new(start: usize, end: usize) -> Span {
        Span { start, end }
    }

    /// The smallest span that holds both.
    ///
    /// ```
    /// use tankhand::source::Span;
    /// assert_eq!(Span::new(2, 4).to(Span::new(7, 9)), Span::new(2, 9));
    /// ```
    pub fn to(self, other: Span) -> Span {
        Span::new(self.start.min(other.start), self.end.max(other.end))
    }
}

impl From<std::ops::Range<usize>> for Span {
    fn from(range: std::ops::Range<usize>) -> Span {
        Span::new(range.start, range.end)
    }
}

/// A line and a column, both counted from 1; the column counts characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

/// A text and the name a person knows it by (mostly a file's path); cheap to clone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceText(Arc<NamedText>);

#[derive(Debug, PartialEq, Eq)]
struct NamedText {
    name: Characters,
    text: Characters,
}

/// A string that is part of the program, or one that was read or made.
#[derive(Debug)]
enum Characters {
    CompiledIn(&'static str),
    Read(Arc<str>),
}

impl Deref for Characters {
    type Target = str;

    fn deref(&self) -> &str {
        match self {
            Characters::CompiledIn(text) => text,
            Characters::Read(text) => text,
        }
    }
}

impl PartialEq for Characters {
    fn eq(&self, other: &Characters) -> bool {
        // Mostly it is the very same one, which need not be read.
        std::ptr::eq(&**self, &**other) || **self == **other
    }
}

impl Eq for Characters {}

impl SourceText {
    /// Names a text.
    pub fn new(name: impl Into<Arc<str>>, text: impl Into<Arc<str>>) -> SourceText {
        let (name, text) = (Characters::Read(name.into()), Characters::Read(text.into()));
        SourceText(Arc::new(NamedText { name, text }))
    }

    /// Names a text that is part of the program, without a copy of it.
    pub fn compiled_in(name: &'static str, text: &'static str) -> SourceText {
        let (name, text) = (Characters::CompiledIn(name), Characters::CompiledIn(text));
        SourceText(Arc::new(NamedText { name, text }))
    }

    /// The name shown in messages.
    pub fn name(&self) -> &str {
        &self.0.name
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        &self.0.text
    }

    /// The characters a span covers; a span that does not fit gives what of it does.
    pub fn slice(&self, span: Span) -> &str {
        let end = span.end.min(self.text().len());
        self.text().get(span.start.min(end)..end).unwrap_or("")
    }

    /// Line and column of a byte offset; past the end counts as the end.
    ///
    /// ```
    /// use tankhand::source::SourceText;
    /// let text = SourceText::new("x.toml", "a = 1\nb = é\n");
    /// let place = text.place(10);
    /// assert_eq!((place.line, place.column), (2, 5));
    /// ```
    pub fn place(&self, offset: usize) -> Place {
        let text = self.text();
        let mut offset = offset.min(text.len());
        while !text.is_char_boundary(offset) {
            offset -= 1;
        }
        let before = &text[..offset];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        Place {
            line: before.bytes().filter(|byte| *byte == b'\n').count() + 1,
            column: before[line_start..].chars().count() + 1,
        }
    }
}
