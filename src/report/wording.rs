//! Words that several pages share.

use crate::clock::Moment;
use crate::record::Outcome;

/// A date and a time of day, as on a wall.
pub(super) fn when(at: Moment) -> String {
    format!("{} {}", at.date(), at.time_of_day())
}

/// How a run ended, in words.
pub(super) fn outcome_words(outcome: Option<Outcome>) -> &'static str {
    match outcome {
        Some(Outcome::Completed) => "completed",
        Some(Outcome::Failed) => "the tank or the installation failed",
        Some(Outcome::Unfinished) => "the work stopped before its end",
        None => "not ended yet",
    }
}

/// A text with a capital at its beginning.
pub(super) fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// How a run ended, in a word or two.
pub(super) fn outcome_word(outcome: Option<Outcome>) -> &'static str {
    match outcome {
        Some(Outcome::Completed) => "completed",
        Some(Outcome::Failed) => "failed",
        Some(Outcome::Unfinished) => "stopped early",
        None => "not ended",
    }
}

/// What is said of a record that was typed in from a sheet.
pub(super) fn typed_in(at: Moment) -> String {
    format!("{} from a sheet filled in by hand; the times are the sheet's", when(at))
}
