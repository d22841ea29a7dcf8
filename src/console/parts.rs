//! Pages too long to be read at once: how much stands between two pauses, and the words of a pause.

use super::face::Block;
use super::not_accepted::NotAccepted;

/// The most lines between two pauses.
const LINES_BETWEEN_PAUSES: usize = 20;
/// On a screen of few rows it scrolls instead.
const LEAST_ROWS: usize = 10;
/// So few lines stand above what is shown in parts without a pause.
const LINES_ABOVE_PARTS: usize = 3;
/// Lines that a heading should not be parted from.
const UNDER_HEADING: usize = 10;
/// What stands at a pause within a page.
pub(super) const PAUSE: &str = "Enter for more, q for no more";
/// What stands at a pause before what follows must be read too.
pub(super) const GO_ON: &str = "Enter goes on";

/// What takes room above the first part of lines, of so many that were shown since a person typed: a heading's few.
pub(super) fn lines_above(shown: usize) -> usize {
    if shown > LINES_ABOVE_PARTS { 0 } else { shown }
}

/// The most lines between two pauses on a screen of so many rows.
pub(super) fn most(rows: usize) -> usize {
    LINES_BETWEEN_PAUSES.min(rows.saturating_sub(2).max(LEAST_ROWS))
}

/// Whether a person should have read what was shown since they last typed, before a block of so many lines.
pub(super) fn is_full(shown: usize, block: &Block, lines: usize, rows: usize) -> bool {
    let with = match block {
        Block::Heading(_) => UNDER_HEADING,
        // A question stands in one piece, its choices and its prompt with it.
        Block::Task { below, .. } => below + 1,
        _ => 0,
    };
    let in_parts = matches!(block, Block::Lines(_)) && shown <= LINES_ABOVE_PARTS;
    shown > 0 && !in_parts && shown + lines + with > most(rows)
}

/// What a line typed at a pause means.
pub(super) fn understand_pause(words: &str, typed: &str) -> Result<Pause, NotAccepted> {
    match typed.trim() {
        "" => Ok(Pause::More),
        "q" | "Q" if words == PAUSE => Ok(Pause::NoMore),
        other => Err(NotAccepted::AtPause(other.to_string())),
    }
}

/// What follows a pause.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Pause {
    /// The next part.
    More,
    /// The question.
    NoMore,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_enter_passes_a_pause_and_q_where_it_is_offered() {
        let at = |words, typed| understand_pause(words, typed).ok();
        for words in [PAUSE, GO_ON] {
            assert_eq!(at(words, " "), Some(Pause::More));
            assert!(["x", "38", "amend 8", "quit"].iter().all(|typed| at(words, typed).is_none()));
        }
        assert_eq!([at(PAUSE, "q"), at(GO_ON, "q")], [Some(Pause::NoMore), None]);
    }

    #[test]
    fn nothing_is_shown_above_what_was_not_read_yet() {
        let task = Block::Task { lines: Vec::new(), below: 3, commands: Vec::new() };
        let [text, heading] = [Block::Text(String::new()), Block::Heading(String::new())];
        // Lines that stand there, a block, its lines, rows of the screen: is it too much?
        let table = [
            (0, &text, 30, 24, false),
            (10, &text, 10, 24, false),
            (10, &text, 11, 24, true),
            (10, &text, 11, 100, true),
            (5, &text, 6, 12, true),
            (1, &text, 9, 4, false),
            (10, &task, 6, 24, false),
            (10, &task, 7, 24, true),
            // A heading stays with what it heads.
            (9, &heading, 1, 24, false),
            (10, &heading, 1, 24, true),
        ];
        for (shown, block, lines, rows, full) in table {
            assert_eq!(is_full(shown, block, lines, rows), full, "{lines} lines below {shown}, {rows} rows");
        }
    }
}
