//! What every message must be: shown on a terminal it commands nothing.

use tankhand::words::is_harmless;

/// Checks a text of one or more lines; none at all would be a refusal without a reason.
pub fn text(text: &str) {
    assert!(!text.is_empty() && text.lines().all(is_harmless), "{text:?}");
}
