//! Pages too long to be read at once: how much stands between two pauses, and the words of a pause.

use super::face::Block;

/// The most lines between two pauses.
const MOST: usize = 20;
/// On a screen of few rows it scrolls instead.
const LEAST: usize = 10;
/// What stands at a pause.
pub(super) const PAUSE: &str = "Enter for more, q for no more";

/// The lines of a block that is to be shown in parts on a screen of so many rows, and how many at once.
pub(super) fn in_parts(block: &Block, rows: usize) -> Option<(&[String], usize)> {
    let Block::Lines(lines) = block else { return None };
    let most = MOST.min(rows.saturating_sub(2).max(LEAST));
    (lines.len() > most).then_some((lines, most))
}

/// Whether an answer at a pause asks for more.
pub(super) fn wants_more(typed: &str) -> bool {
    !typed.trim().to_lowercase().starts_with('q')
}
