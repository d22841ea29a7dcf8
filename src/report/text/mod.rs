//! A page as lines of text: for a terminal of any width, a text file, a printer, a screen reader.
//!
//! The layout is ASCII. What is struck out is marked with a sign and a word, never with colour
//! alone. No line is wider than asked for; a word that does not fit a line is broken.

mod clean;
mod table;

use textwrap::core::display_width;

use self::clean::clean;
pub(super) use self::clean::hung;
use super::{Page, PageBlock};
use crate::words::wrap;

/// Lays a page out in lines of at most `width` columns (taken as 40 to 120).
///
/// ```
/// use tankhand::report::{Page, Row, to_text};
/// let mut page = Page::titled("Records");
/// page.table(&["Tank", "Air"], vec![Row::new(["main", "36 psi"])]);
/// assert_eq!(to_text(&page, 80), ["Records", "=======", "", "Tank  Air", "----  ------", "main  36 psi"]);
/// ```
pub fn to_text(page: &Page, width: usize) -> Vec<String> {
    let width = width.clamp(40, 120);
    let mut lines = Vec::new();
    if let Some(title) = &page.title {
        lines.extend(underlined(title, width, '='));
    }
    for block in &page.blocks {
        let laid = match block {
            PageBlock::Heading(text) => underlined(text, width, '-'),
            PageBlock::Lead(text) | PageBlock::Text(text) => wrap(&clean(text), width, 0),
            PageBlock::Note(text) => hung("Note: ", text, width),
            PageBlock::List(items) => items.iter().flat_map(|item| hung("- ", item, width)).collect(),
            PageBlock::Listing(text) => listed(text, width),
            PageBlock::Figure(figure) => figure.to_text(width),
            PageBlock::Signatures(who) => who.iter().flat_map(|who| signature(who, width)).collect(),
            PageBlock::File { .. } | PageBlock::Code(_) => Vec::new(),
            PageBlock::Table { head, rows } => table::lay(head, rows, width),
        };
        if !lines.is_empty() && !laid.is_empty() {
            lines.push(String::new());
        }
        lines.extend(laid);
    }
    lines
}

/// Room to sign, and below it who signs.
fn signature(who: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new(), "_".repeat(width.min(60))];
    lines.extend(wrap(&clean(who), width, 0));
    lines
}

fn underlined(text: &str, width: usize, sign: char) -> Vec<String> {
    let mut lines = wrap(&clean(text), width, 0);
    let longest = lines.iter().map(|line| display_width(line)).max().unwrap_or(0);
    lines.push(sign.to_string().repeat(longest));
    lines
}

/// Lines as they are, set in where there is room; one that is too long is broken.
fn listed(text: &str, width: usize) -> Vec<String> {
    let longest = text.lines().map(display_width).max().unwrap_or(0);
    let lead = if longest + 4 <= width { "    " } else { "" };
    let options = textwrap::Options::new(width).word_splitter(textwrap::WordSplitter::NoHyphenation);
    let whole = clean(text);
    let pieces = whole.split('\n').flat_map(|line| textwrap::wrap(line, &options));
    pieces.map(|piece| format!("{lead}{piece}").trim_end().to_string()).collect()
}
