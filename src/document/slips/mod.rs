//! Slips of the pen in a TOML text, in plain words, each with what to write.
//!
//! The parser knows where it stopped. What was meant is read from the line it stopped in: who writes a
//! first file writes yes for true, a unit without quotes, or the quotes of a word processor.

mod line;
mod lines;
mod texts;
mod values;

use self::line::SlipLine;
use crate::source::{Fault, SourceText, Span};

/// The faults of a text that is no TOML: one a line, none that only follows from another.
pub(super) fn faults(source: &SourceText, errors: &[toml::de::Error]) -> Vec<Fault> {
    let mut places: Vec<(usize, &str)> =
        errors.iter().map(|error| (error.span().map_or(0, |span| span.start), error.message())).collect();
    places.sort_by_key(|(at, _)| *at);
    places.dedup_by_key(|(at, _)| source.place(*at).line);
    let mut faults = Vec::new();
    for (at, said) in places.into_iter().take(20) {
        let (fault, runs_on) = fault(source, at, said);
        faults.push(fault);
        if runs_on {
            break;
        }
    }
    faults
}

fn fault(source: &SourceText, at: usize, said: &str) -> (Fault, bool) {
    let whole = source.text();
    // A text in three quotes that is not closed runs to the end; it is told where it begins.
    let begins = whole[..at.min(whole.len())].rfind("\"\"\"").filter(|_| said.contains("multi-line"));
    let mut at = begins.unwrap_or(at).min(whole.len());
    while !whole.is_char_boundary(at) {
        at -= 1;
    }
    let start = whole[..at].rfind('\n').map_or(0, |before| before + 1);
    let end = whole[at..].find('\n').map_or(whole.len(), |after| at + after);
    let line = SlipLine::of(whole, (start, end), said);
    let text = line.text;
    let slip = lines::slip(&line).or_else(|| values::slip(&line)).or_else(|| texts::slip(&line));
    let slip = slip.unwrap_or_else(|| lines::of_no_sort(&line));
    let from = start + text.find(slip.about.as_str()).unwrap_or(text.len() - text.trim_start().len());
    let long = if slip.about.is_empty() { text.trim().len() } else { slip.about.len() };
    let span = Span::new(from, (from + long).min(start + text.len()).max(from));
    (Fault::new("toml", source, span, slip.message).remedy(slip.remedy), slip.runs_on)
}
