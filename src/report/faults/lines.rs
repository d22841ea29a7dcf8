//! Where the lines of a text begin, found once for all of its faults.

use std::cell::Cell;

use crate::source::{Place, SourceText, Span};

/// The lines of a text.
#[derive(Debug)]
pub(super) struct LineIndex<'a> {
    text: &'a str,
    starts: Vec<usize>,
    /// The place last asked for: line, offset, characters before it on its line.
    last: Cell<(usize, usize, usize)>,
}

impl<'a> LineIndex<'a> {
    pub(super) fn of(source: &'a SourceText) -> LineIndex<'a> {
        let text = source.text();
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        LineIndex { text, starts, last: Cell::new((0, 0, 0)) }
    }

    /// Whether these are the lines of that text.
    pub(super) fn are_of(&self, source: &SourceText) -> bool {
        std::ptr::eq(self.text, source.text())
    }

    /// The nearest offset at or before this one at which a character begins.
    pub(super) fn boundary(&self, offset: usize) -> usize {
        let mut offset = offset.min(self.text.len());
        while !self.text.is_char_boundary(offset) {
            offset -= 1;
        }
        offset
    }

    /// The line, from 0, that an offset stands on.
    pub(super) fn line_at(&self, offset: usize) -> usize {
        self.starts.partition_point(|start| *start <= offset).saturating_sub(1)
    }

    /// The bytes of a line, without its end.
    pub(super) fn span(&self, line: usize) -> Span {
        let start = self.starts.get(line).copied().unwrap_or(self.text.len());
        let next = self.starts.get(line + 1).map_or(self.text.len(), |next| next - 1);
        let end = next.max(start);
        let ends_in_return = self.text[start..end].ends_with('\r');
        Span::new(start, end - usize::from(ends_in_return))
    }

    pub(super) fn slice(&self, span: Span) -> &'a str {
        self.text.get(span.start..span.end).unwrap_or("")
    }

    /// Line and column of an offset at which a character begins, counted from 1. Faults come
    /// sorted, so the count goes on from the last place where it can.
    pub(super) fn place(&self, offset: usize) -> Place {
        let line = self.line_at(offset);
        let (last_line, from, before) = match self.last.get() {
            (last_line, from, before) if last_line == line && from <= offset => (line, from, before),
            _ => (line, self.starts.get(line).copied().unwrap_or(0), 0),
        };
        let characters = before + self.slice(Span::new(from, offset)).chars().count();
        self.last.set((last_line, offset, characters));
        Place { line: line + 1, column: characters + 1 }
    }
}
