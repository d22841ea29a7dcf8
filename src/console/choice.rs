//! Choices: the signs before them, and which of them a typed text means.

use crate::words::{did_you_mean, list};

/// The signs before the choices: numbers, or letters when a choice itself is a number.
pub(super) fn choice_signs(options: &[(String, String)]) -> Vec<String> {
    let numeric = options.iter().any(|(value, _)| value.starts_with(|c: char| c.is_ascii_digit()));
    (0..options.len())
        .map(|at| match u8::try_from(at) {
            Ok(small) if numeric && small < 26 => char::from(b'a' + small).to_string(),
            _ if numeric => format!("#{}", at + 1),
            _ => (at + 1).to_string(),
        })
        .collect()
}

/// Which choice a text means: its value or words in full, its sign, or the only one that begins so.
pub(super) fn chosen(text: &str, options: &[(String, String)]) -> Option<usize> {
    let typed = text.to_lowercase();
    if typed.is_empty() {
        return None;
    }
    let lower: Vec<(String, String)> =
        options.iter().map(|(value, words)| (value.to_lowercase(), words.to_lowercase())).collect();
    lower
        .iter()
        .position(|(value, _)| *value == typed)
        .or_else(|| lower.iter().position(|(_, words)| *words == typed))
        .or_else(|| choice_signs(options).iter().position(|sign| *sign == typed))
        .or_else(|| only(lower.iter().map(|(value, _)| value.starts_with(&typed))))
        .or_else(|| only(lower.iter().map(|(_, words)| words.starts_with(&typed))))
}

/// The place of the only `true`.
fn only(fits: impl Iterator<Item = bool>) -> Option<usize> {
    let mut places = fits.enumerate().filter_map(|(at, fit)| fit.then_some(at));
    places.next().filter(|_| places.next().is_none())
}

/// Why a text means none of the choices.
pub(super) fn no_such_choice(text: &str, options: &[(String, String)]) -> String {
    let signs = choice_signs(options);
    let range = format!("{} to {}", signs.first().map_or("", |s| s), signs.last().map_or("", |s| s));
    if text.is_empty() {
        return format!("Type the number or the word of one of them ({range}).");
    }
    let typed = text.to_lowercase();
    let begin: Vec<String> = options
        .iter()
        .map(|(value, _)| value)
        .filter(|value| value.to_lowercase().starts_with(&typed))
        .map(|value| format!("`{value}`"))
        .collect();
    if begin.len() > 1 {
        return format!("`{text}` could mean {}: type more of it.", list(&begin, "or"));
    }
    let values: Vec<&str> = options.iter().map(|(value, _)| value.as_str()).collect();
    format!("`{text}` is none of them: {}", did_you_mean(text, &values))
}
