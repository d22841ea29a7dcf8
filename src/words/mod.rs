//! Wording helpers: lists, plurals, near misses, wrapping, and text made harmless to show.

mod choice;
#[macro_use]
mod formula;
mod glossary;
mod near;
mod plain;

pub use choice::{all_begin, chosen, is_done, yes_or_no};
pub(crate) use choice::{choice_signs, is_yes_or_no};
pub use formula::Formula;
pub use glossary::{GLOSSARY, GlossaryTerm, has_word, terms_in};
pub use near::{did_you_mean, near};
pub use plain::{harmless, is_harmless, on_one_line, path_shown, wrap};

/// What may be typed in place of any answer, and so is never an answer itself.
pub const ORDERS: &[&str] = &["?", "more", "list", "back", "amend", "note", "skip", "pause"];

/// Joins words as a sentence does: `a`, `a or b`, `a, b or c`.
///
/// ```
/// use tankhand::words::list;
/// assert_eq!(list(["psi", "bar", "kPa"], "or"), "psi, bar or kPa");
/// ```
pub fn list<S: AsRef<str>>(words: impl IntoIterator<Item = S>, joint: &str) -> String {
    match words.into_iter().collect::<Vec<_>>().as_slice() {
        [] => String::new(),
        [one] => one.as_ref().to_string(),
        [head @ .., last] => {
            let head: Vec<&str> = head.iter().map(AsRef::as_ref).collect();
            format!("{} {joint} {}", head.join(", "), last.as_ref())
        }
    }
}

/// A text, unless there is nothing in it.
///
/// ```
/// use tankhand::words::{list, non_empty};
/// assert_eq!(non_empty(list(["one", "two"], "and")).as_deref(), Some("one and two"));
/// assert_eq!(non_empty(String::new()), None);
/// ```
pub fn non_empty(text: String) -> Option<String> {
    (!text.is_empty()).then_some(text)
}

/// A text with a capital at its beginning.
///
/// ```
/// use tankhand::words::capitalized;
/// assert_eq!(capitalized("cut-in"), "Cut-in");
/// ```
pub fn capitalized(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// A count with its noun, in the plural where it needs one.
///
/// ```
/// use tankhand::words::counted;
/// assert_eq!(counted(1, "fault"), "1 fault");
/// assert_eq!(counted(3, "fault"), "3 faults");
/// ```
pub fn counted(n: usize, noun: &str) -> String {
    if n == 1 { format!("1 {noun}") } else { format!("{n} {noun}s") }
}

/// The ordinal of a small number: `1st`, `2nd`, `3rd`, `4th`.
///
/// ```
/// use tankhand::words::ordinal;
/// assert_eq!([1, 2, 3, 11, 22].map(ordinal).join(" "), "1st 2nd 3rd 11th 22nd");
/// ```
pub fn ordinal(n: usize) -> String {
    let ending = match (n % 10, n % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{n}{ending}")
}
