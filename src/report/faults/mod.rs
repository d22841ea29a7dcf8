//! Faults as pages: where, what, why, and what to do, with the very characters marked.
//!
//! Only the lines around a fault are looked at, cut to the width, so that a file of one endless
//! line costs no more than any other.

mod excerpt;
mod lines;

use std::fmt::Write;

use console::Style;
use textwrap::core::display_width;

use self::excerpt::{LabelPlacement, View, clean, one_line, views};
use self::lines::LineIndex;
use crate::source::{Fault, SourceText, Span};
use crate::words::{counted, list, wrap};

/// Faults as pages for a terminal of `width` columns (taken as 40 to 120), as many as fit a screen.
///
/// Then comes a line for each of some more, and a closing line that counts all and names the files. Nothing for no
/// faults. A page has the message, `file:line:column`, the marked excerpt, why, and what to do. ASCII but for
/// the text's own characters; with `colour`, ANSI colours.
///
/// ```
/// use tankhand::report::faults_text;
/// use tankhand::source::{Fault, SourceText, Span};
/// let text = SourceText::new("demo.toml", "durration = 3\n");
/// let fault = Fault::new("unknown-key", &text, Span::new(0, 9), "there is no key `durration`")
///     .label("this key")
///     .remedy("did you mean `duration`?");
/// assert_eq!(faults_text(&[fault], 80, false), "\
/// error: there is no key `durration`
///  --> demo.toml:1:1
///   |
/// 1 | durration = 3
///   | ^^^^^^^^^ this key
///   = help: did you mean `duration`?
///
/// 1 fault in demo.toml
/// ");
/// ```
pub fn faults_text(faults: &[Fault], width: usize, colour: bool) -> String {
    let look = FaultLayout::new(width, colour);
    let mut text = String::new();
    let mut lines: Option<LineIndex<'_>> = None;
    let mut rest = faults;
    while let Some((fault, after)) = rest.split_first() {
        let lines = match &mut lines {
            Some(known) if known.are_of(&fault.source) => known,
            other => other.insert(LineIndex::of(&fault.source)),
        };
        let page = page(fault, lines, look);
        if !text.is_empty() && text.lines().count() + page.lines().count() > MOST_LINES {
            break;
        }
        text.push_str(&page);
        text.push('\n');
        rest = after;
    }
    for fault in &rest[..rest.len().min(MOST_HEADINGS)] {
        text.push_str(&look.hung("", "error: ", Style::new().red().bold(), &fault.heading()));
    }
    if !rest.is_empty() {
        text.push('\n');
    }
    if !faults.is_empty() {
        let shown = faults.len() - rest.len().saturating_sub(MOST_HEADINGS);
        text.push_str(&look.hung("", "", Style::new(), &closing(faults, shown)));
    }
    text
}

/// The most lines of pages, the first page apart: who has mended these looks again.
const MOST_LINES: usize = 45;
/// The most faults told in a line each after the pages.
const MOST_HEADINGS: usize = 8;
/// The most other places of a cause that are named.
const MOST_PLACES: usize = 6;

/// `line 53, line 60 and parts/drain.toml:4`: where else the same cause was met.
fn also(fault: &Fault) -> Option<String> {
    let named = |(source, span): &(SourceText, Span)| {
        let line = source.place(span.start).line;
        if source.name() == fault.source.name() {
            format!("line {line}")
        } else {
            format!("{}:{line}", one_line(source.name()))
        }
    };
    let mut places: Vec<String> = fault.also.iter().map(named).collect();
    places.dedup();
    let more = places.len().saturating_sub(MOST_PLACES);
    places.truncate(MOST_PLACES);
    if more > 0 {
        places.push(format!("{more} more places"));
    }
    (!places.is_empty()).then(|| format!("the same in {}", list(&places, "and")))
}

/// `3 faults in flush.toml and parts/drain.toml`.
fn closing(faults: &[Fault], shown: usize) -> String {
    let mut names: Vec<String> = Vec::new();
    for fault in faults {
        let name = one_line(fault.source.name());
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let shown = match faults.len() {
        count if count > shown => format!(", the first {shown} shown"),
        _ => String::new(),
    };
    format!("{} in {}{shown}", counted(faults.len(), "fault"), list(&names, "and"))
}

/// How pages are to look.
#[derive(Clone, Copy, Debug)]
struct FaultLayout {
    width: usize,
    colour: bool,
}

impl FaultLayout {
    fn new(width: usize, colour: bool) -> FaultLayout {
        FaultLayout { width: width.clamp(40, 120), colour }
    }

    fn paint(self, style: Style, text: &str) -> String {
        if self.colour { style.force_styling(true).apply_to(text).to_string() } else { text.to_string() }
    }

    /// Text after a coloured lead, wrapped with its later lines below its first.
    fn hung(self, indent: &str, lead: &str, style: Style, text: &str) -> String {
        let before = display_width(indent) + display_width(lead);
        let mut page = String::new();
        for (at, line) in wrap(&clean(text), self.width, before).iter().enumerate() {
            let words = line.get(before..).unwrap_or("");
            let _ = match at {
                0 => writeln!(page, "{indent}{}{words}", self.paint(style.clone(), lead)),
                _ => writeln!(page, "{line}"),
            };
        }
        page
    }
}

fn page(fault: &Fault, lines: &LineIndex<'_>, look: FaultLayout) -> String {
    let mut page = look.hung("", "error: ", Style::new().red().bold(), &fault.message);
    let views = views(fault, lines, look.width);
    let gutter = views.iter().map(View::gutter).max().unwrap_or(1);
    let blue = || Style::new().blue().bold();
    for (at, view) in views.iter().enumerate() {
        let arrow = if at == 0 { "--> " } else { "::: " };
        let name = one_line(fault.source.name());
        let place = format!("{name}:{}:{}", view.place.line, view.place.column);
        page.push_str(&look.hung(&" ".repeat(gutter), arrow, blue(), &place));
        let labels = if view.fits(look.width, gutter) { LabelPlacement::Shown } else { LabelPlacement::Left };
        for line in view.rendered(labels, look.colour).lines() {
            let _ = writeln!(page, "{}{line}", " ".repeat(gutter - view.gutter()));
        }
        if labels == LabelPlacement::Left {
            for label in view.labels() {
                page.push_str(&look.hung(&" ".repeat(gutter + 1), "= ", blue(), &label));
            }
        }
        for (column, label) in &view.beyond {
            let text = format!("column {column}: {label}");
            page.push_str(&look.hung(&" ".repeat(gutter + 1), "= ", blue(), &text));
        }
    }
    let also = also(fault);
    for (word, text) in [("also: ", &also), ("why:  ", &fault.why), ("help: ", &fault.remedy)] {
        if let Some(text) = text {
            let indent = format!("{} = ", " ".repeat(gutter));
            page.push_str(&look.hung(&indent, word, Style::new().bold(), text));
        }
    }
    page
}
