//! Tables in text: columns where they fit, one block a row where they do not.

use textwrap::core::display_width;

use super::clean::{clean, hung};
use crate::report::Row;
use crate::words::wrap;

/// The columns between two cells.
const CELL_GAP: usize = 2;
/// A column is not made narrower than this to let the others fit.
const NARROWEST: usize = 14;
/// A column may be kept this wide for a long word, and may stand on the first line of a block.
const SHORT: usize = 30;
/// What leads a struck row, and what the others have in its place.
const STRUCK: &str = "x ";
/// What is said below a table with struck rows.
const LEGEND: &str = "x: withdrawn, no longer counts";

/// Lays a table out.
pub(super) fn lay(head: &[String], rows: &[Row], width: usize) -> Vec<String> {
    let any_struck = rows.iter().any(|row| row.struck);
    let margin = if any_struck { STRUCK.len() } else { 0 };
    let mut head: Vec<String> = head.iter().map(|cell| one_line(cell)).collect();
    if head.iter().all(String::is_empty) {
        head.clear();
    }
    let cells: Vec<Vec<String>> =
        rows.iter().map(|row| row.cells.iter().map(|cell| clean(cell)).collect()).collect();
    // What each column would like, and what it is not made narrower than: its longest word, and some.
    let natural = widest(&head, &cells, |cell| cell.split('\n'));
    let words = widest(&head, &cells, str::split_whitespace);
    let least = natural.iter().zip(words).map(|(natural, word)| word.clamp(NARROWEST, SHORT).min(*natural));
    let mut lines = match fit(&natural, &least.collect::<Vec<_>>(), width - margin) {
        Some(widths) => columns(&head, &cells, rows, &widths),
        None => blocks(&head, &cells, rows, &natural, width),
    };
    if any_struck {
        lines.push(LEGEND.to_string());
    }
    lines
}

fn one_line(cell: &str) -> String {
    clean(cell).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// How wide the widest piece of each column is.
fn widest<'c, P: Iterator<Item = &'c str>>(
    head: &'c [String],
    cells: &'c [Vec<String>],
    pieces: impl Fn(&'c str) -> P,
) -> Vec<usize> {
    let count = cells.iter().map(Vec::len).chain([head.len()]).max().unwrap_or(0);
    let widest = |column: usize| {
        let all = cells.iter().filter_map(|row| row.get(column)).chain(head.get(column));
        all.flat_map(|cell| pieces(cell)).map(display_width).max().unwrap_or(0)
    };
    (0..count).map(widest).collect()
}

/// The widths the columns get: what they like, or the widest made narrower until all fit;
/// `None` when they cannot.
fn fit(natural: &[usize], least: &[usize], width: usize) -> Option<Vec<usize>> {
    let room = width.checked_sub(CELL_GAP * natural.len().saturating_sub(1))?;
    let mut widths: Vec<usize> = natural.iter().map(|wish| (*wish).min(room)).collect();
    while widths.iter().sum::<usize>() > room {
        let yielding = (0..widths.len()).filter(|column| widths[*column] > least[*column]);
        let widest = yielding.max_by_key(|column| widths[*column])?;
        widths[widest] -= 1;
    }
    Some(widths)
}

fn columns(head: &[String], cells: &[Vec<String>], rows: &[Row], widths: &[usize]) -> Vec<String> {
    let any_struck = rows.iter().any(|row| row.struck);
    let plain = if any_struck { " ".repeat(STRUCK.len()) } else { String::new() };
    let mut lines = Vec::new();
    if !head.is_empty() {
        lines.extend(side_by_side(head, widths, &plain, &plain));
        let rules: Vec<String> = widths.iter().map(|width| "-".repeat(*width)).collect();
        lines.push(format!("{plain}{}", rules.join(&" ".repeat(CELL_GAP))).trim_end().to_string());
    }
    for (row, cells) in rows.iter().zip(cells) {
        let lead = if row.struck { STRUCK } else { &plain };
        lines.extend(side_by_side(cells, widths, lead, &plain));
    }
    lines
}

/// One row: its cells wrapped into their columns.
fn side_by_side(cells: &[String], widths: &[usize], lead: &str, later_lead: &str) -> Vec<String> {
    let wrapped: Vec<Vec<String>> =
        cells.iter().zip(widths).map(|(cell, width)| wrap(cell, (*width).max(1), 0)).collect();
    let height = wrapped.iter().map(Vec::len).max().unwrap_or(0);
    let line = |at: usize| {
        let mut line = if at == 0 { lead } else { later_lead }.to_string();
        for (cell, width) in wrapped.iter().zip(widths) {
            let piece = cell.get(at).map_or("", String::as_str);
            line.push_str(piece);
            line.push_str(&" ".repeat((width + CELL_GAP).saturating_sub(display_width(piece))));
        }
        line.trim_end().to_string()
    };
    (0..height).map(line).collect()
}

/// Each row as a block: its first cells on a line, as many of the short as fit, then the others
/// below, each with its column's word.
fn blocks(
    head: &[String],
    cells: &[Vec<String>],
    rows: &[Row],
    natural: &[usize],
    width: usize,
) -> Vec<String> {
    // The last column always stands below.
    let short = natural.iter().take_while(|natural| **natural <= SHORT).count();
    let short = short.min(natural.len().saturating_sub(1)).max(1);
    let mut lines = Vec::new();
    for (row, cells) in rows.iter().zip(cells) {
        if !lines.is_empty() {
            lines.push(String::new());
        }
        let lead = if row.struck { STRUCK } else { "" };
        let (first, below) = first_line(cells, short, width - lead.len());
        lines.extend(hung(lead, &first, width));
        for (column, cell) in cells.iter().enumerate().skip(below) {
            let text = match head.get(column) {
                Some(word) if !word.is_empty() => format!("{word}: {}", cell.trim()),
                _ => cell.trim().to_string(),
            };
            if !cell.trim().is_empty() {
                lines.extend(indented(&text, width));
            }
        }
    }
    lines
}

/// The first cell, and those of the `short` after it that fit on its line; also how many these
/// are.
fn first_line(cells: &[String], short: usize, width: usize) -> (String, usize) {
    let mut first = cells.first().cloned().unwrap_or_default();
    let mut consumed = 1;
    for cell in cells.iter().take(short).skip(1) {
        let wide = display_width(&first) + CELL_GAP + display_width(cell) > width;
        if wide || first.contains('\n') || cell.contains('\n') {
            break;
        }
        first = format!("{first}{}{cell}", " ".repeat(CELL_GAP)).trim().to_string();
        consumed += 1;
    }
    (first, consumed)
}

/// A text two columns in, its later lines four.
fn indented(text: &str, width: usize) -> Vec<String> {
    let mut lines = wrap(text, width, 2 * CELL_GAP);
    if let Some(first) = lines.first_mut() {
        first.drain(..CELL_GAP.min(first.len()));
    }
    lines
}
