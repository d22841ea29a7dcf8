//! The lines a fault speaks of, cut to the width around the marked characters.

use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use textwrap::core::display_width;

use super::lines::LineIndex;
use crate::source::{Fault, Place, Span};
use crate::words::harmless;

/// Marks this many lines from the fault or nearer stand in its own excerpt.
const NEAR_LINES: usize = 12;
/// More excerpts than this are not shown for one fault.
const MOST_VIEWS: usize = 6;
/// The most characters repeated of what a mark stands at.
const LONGEST_MARKED: usize = 24;
/// What stands where a line was cut.
const CUT: &str = "...";

/// Whether labels stand at their marks, or are left for the lines below.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum LabelPlacement {
    Shown,
    Left,
}

/// A few lines with marks in them.
#[derive(Debug)]
pub(super) struct View {
    /// The place of its first mark.
    pub place: Place,
    /// Marks that the cut has left out: column and label.
    pub beyond: Vec<(usize, String)>,
    first_line: usize,
    last_line: usize,
    text: String,
    marks: Vec<Marked>,
}

/// A mark in a view's text.
#[derive(Debug)]
struct Marked {
    range: Range<usize>,
    label: String,
    main: bool,
}

/// A mark to be put in a view.
#[derive(Clone, Debug)]
struct MarkToShow {
    /// Where it begins, be it within the end of the line.
    start: usize,
    /// Within one line.
    span: Span,
    line: usize,
    label: String,
    main: bool,
}

/// The excerpts of a fault: that of the fault itself, and of marks too far from it to stand in
/// the same.
pub(super) fn views(fault: &Fault, lines: &LineIndex<'_>, width: usize) -> Vec<View> {
    let main = mark_to_show(lines, fault.span, &fault.label, true);
    let (mut near, mut far) = (vec![main.clone()], Vec::new());
    for mark in &fault.marks {
        let mark = mark_to_show(lines, mark.span, &mark.says, false);
        if mark.line.abs_diff(main.line) <= NEAR_LINES { near.push(mark) } else { far.push(vec![mark]) }
    }
    let groups: Vec<Vec<MarkToShow>> = std::iter::once(near).chain(far).take(MOST_VIEWS).collect();
    let last_line = groups.iter().flatten().map(|mark| mark.line).max().unwrap_or(0);
    // One column is kept for a mark at the very end of a line.
    let room = width.saturating_sub(digits(last_line) + " | ".len() + 1).max(20);
    groups.into_iter().map(|marks| view(marks, lines, room)).collect()
}

/// A span within the line it begins on, at the bounds of characters.
fn mark_to_show(lines: &LineIndex<'_>, span: Span, label: &str, main: bool) -> MarkToShow {
    let start = lines.boundary(span.start);
    let line = lines.line_at(start);
    let whole = lines.span(line);
    let from = start.min(whole.end);
    let end = lines.boundary(span.end).clamp(from, whole.end);
    MarkToShow { start, span: Span::new(from, end), line, label: one_line(label), main }
}

/// The columns that the number of a line, counted here from 0, takes.
fn digits(line: usize) -> usize {
    (line + 1).to_string().len()
}

fn view(marks: Vec<MarkToShow>, lines: &LineIndex<'_>, room: usize) -> View {
    let place = marks.first().map_or(Place { line: 1, column: 1 }, |mark| lines.place(mark.start));
    let first_line = marks.iter().map(|mark| mark.line).min().unwrap_or(0);
    let last_line = marks.iter().map(|mark| mark.line).max().unwrap_or(0);
    let mut view =
        View { place, beyond: Vec::new(), first_line, last_line, text: String::new(), marks: Vec::new() };
    for line in first_line..=last_line {
        let in_line: Vec<&MarkToShow> = marks.iter().filter(|mark| mark.line == line).collect();
        view.add(lines, line, &in_line, room);
    }
    view
}

impl View {
    /// Adds a line, cut around the first of its marks.
    fn add(&mut self, lines: &LineIndex<'_>, line: usize, marks: &[&MarkToShow], room: usize) {
        let whole = lines.span(line);
        let window = window(lines, whole, marks.first().map_or(whole.start, |mark| mark.span.start), room);
        let offset_of = |at: usize| {
            let lead = if window.start > whole.start { CUT.len() } else { 0 };
            self.text.len() + lead + shown(lines.slice(Span::new(window.start, at))).len()
        };
        for mark in marks {
            if mark.span.start > window.end || mark.span.end < window.start {
                self.beyond.push((lines.place(mark.span.start).column, mark.label.clone()));
                continue;
            }
            let start = offset_of(mark.span.start.max(window.start));
            let end = offset_of(mark.span.end.min(window.end));
            self.marks.push(Marked { range: start..end, label: mark.label.clone(), main: mark.main });
        }
        if window.start > whole.start {
            self.text.push_str(CUT);
        }
        self.text.push_str(&shown(lines.slice(window)));
        if window.end < whole.end {
            self.text.push_str(CUT);
        }
        self.text.push('\n');
    }

    /// The columns that the line numbers take.
    pub(super) fn gutter(&self) -> usize {
        digits(self.last_line)
    }

    /// Whether the view with its labels keeps within a width.
    pub(super) fn fits(&self, width: usize, gutter: usize) -> bool {
        let room = width - (gutter - self.gutter()).min(width);
        self.rendered(LabelPlacement::Shown, false).lines().all(|line| display_width(line) <= room)
    }

    /// The labels, each after what its mark stands at.
    pub(super) fn labels(&self) -> impl Iterator<Item = String> {
        let labelled = self.marks.iter().filter(|mark| !mark.label.is_empty());
        labelled.map(|mark| match self.text[mark.range.clone()].trim() {
            "" => mark.label.clone(),
            marked => match marked.char_indices().nth(LONGEST_MARKED) {
                Some((cut, _)) => format!("`{}{CUT}`: {}", &marked[..cut], mark.label),
                None => format!("`{marked}`: {}", mark.label),
            },
        })
    }

    /// The view as lines.
    pub(super) fn rendered(&self, labels: LabelPlacement, colour: bool) -> String {
        let mut snippet = Snippet::source(self.text.as_str()).line_start(self.first_line + 1);
        for mark in &self.marks {
            let kind = if mark.main { AnnotationKind::Primary } else { AnnotationKind::Context };
            let annotation = kind.span(mark.range.clone());
            let labelled = labels == LabelPlacement::Shown && !mark.label.is_empty();
            snippet = snippet.annotation(if labelled { annotation.label(&mark.label) } else { annotation });
        }
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        let group = Group::with_level(Level::ERROR).element(snippet);
        renderer.decor_style(DecorStyle::Ascii).term_width(1_000).render(&[group])
    }
}

/// The part of a line that is shown: all of it where it fits, else what fits around `focus`.
fn window(lines: &LineIndex<'_>, whole: Span, focus: usize, room: usize) -> Span {
    let end = forward(lines, whole.start, whole.end, room);
    if end == whole.end {
        return whole;
    }
    let room = room.saturating_sub(2 * CUT.len());
    let start = backward(lines, Span::new(whole.start, focus), room / 3);
    let end = forward(lines, start, whole.end, room);
    // Near the end of the line there is room for more before.
    let start = if end == whole.end { backward(lines, whole, room) } else { start };
    Span::new(start.min(focus), end)
}

/// The first offset in a span from which its end is no more than `room` columns away.
fn backward(lines: &LineIndex<'_>, span: Span, room: usize) -> usize {
    let mut columns = 0;
    for (at, c) in lines.slice(span).char_indices().rev() {
        columns += columns_of(c);
        if columns > room {
            return span.start + at + c.len_utf8();
        }
    }
    span.start
}

/// The furthest that fits in `room` columns from `start`.
fn forward(lines: &LineIndex<'_>, start: usize, end: usize, room: usize) -> usize {
    let mut columns = 0;
    for (at, c) in lines.slice(Span::new(start, end)).char_indices() {
        columns += columns_of(c);
        if columns > room {
            return start + at;
        }
    }
    end
}

fn columns_of(c: char) -> usize {
    display_width(&shown(c.encode_utf8(&mut [0; 4]))).max(1)
}

/// Text from a file with nothing in it that commands a terminal; tabs become a space each, so that columns hold.
pub(super) fn clean(text: &str) -> String {
    harmless(&text.replace("\r\n", "\n").replace('\t', " "))
}

/// The same, on one line.
pub(super) fn one_line(text: &str) -> String {
    clean(text).replace('\n', " ")
}

/// A piece of a line as it is shown.
fn shown(piece: &str) -> String {
    clean(&piece.replace('\t', "    ")).replace('\n', " ")
}
