//! Words that several pages share.

use crate::clock::Moment;
use crate::quantity::{Truth, Verdict};
use crate::record::{Entry, Grade, Mended, Outcome};
use crate::words::list;

/// A date and a time of day, as on a wall.
pub(super) fn when(at: Moment) -> String {
    format!("{} {}", at.date(), at.time_of_day())
}

/// The time of day; with the date, where that is not `day` any more.
pub(super) fn when_after(day: &mut String, at: Moment) -> String {
    let date = at.date();
    if date == *day {
        return at.time_of_day();
    }
    *day = date;
    when(at)
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

/// How a run ended with what weighs worst of what was found: `completed; attention: precharge low`.
/// What is good is not mentioned.
pub(super) fn with_findings(outcome: &str, grade: Option<Grade>, found: &[String]) -> String {
    match grade {
        Some(grade) if !found.is_empty() => format!("{outcome}; {}: {}", grade.word(), list(found, "and")),
        _ => outcome.to_string(),
    }
}

/// How a run ended, in a word or two.
///
/// ```
/// use tankhand::record::Outcome;
/// use tankhand::report::outcome_word;
/// assert_eq!(outcome_word(Some(Outcome::Unfinished)), "stopped early");
/// assert_eq!(outcome_word(None), "not ended");
/// ```
pub fn outcome_word(outcome: Option<Outcome>) -> &'static str {
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

/// A probability in per cent, cut off, not rounded up, so that it never passes for certainty or
/// for a limit it does not reach.
pub(super) fn percent(p: f64) -> String {
    match 100.0 * p {
        p if p > 99.9 => "> 99.9 %".to_string(),
        p if p < 0.1 => "< 0.1 %".to_string(),
        // What is a hair below a whole number is that number.
        p if !(1.0..99.0).contains(&p) => format!("{:.1} %", (10.0 * p + 1e-6).floor() / 10.0),
        p => format!("{:.0} %", (p + 1e-6).floor()),
    }
}

/// A verdict as programs and style sheets know it.
pub(super) fn verdict_key(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "pass",
        Verdict::Fail => "fail",
        Verdict::Unsure => "unsure",
    }
}

/// How likely something is, between the least and the most.
pub(super) fn percents(truth: Truth) -> String {
    match [truth.least, truth.most].map(percent) {
        [least, most] if least == most => least,
        [least, most] => format!("{least} to {most}"),
    }
}

/// A check's verdict with its probability: `pass, 99.4 %`. What is certain has none, and of what
/// can't be told [`percent`] alone would say too little. `None` for what is no check.
pub(super) fn verdict_words(entry: &Entry) -> Option<String> {
    let verdict = entry.verdict?;
    let probability = entry.truth.and_then(|truth| match verdict {
        Verdict::Pass => (truth.least < 1.0).then_some(truth.least),
        Verdict::Fail => (truth.most > 0.0).then_some(1.0 - truth.most),
        Verdict::Unsure => None,
    });
    Some(match probability {
        Some(p) => format!("{}, {}", verdict.word(), percent(p)),
        None => verdict.word().to_string(),
    })
}

/// Which entries could not be mended, where there are any.
pub(crate) fn lost_entries(mended: &Mended) -> Option<String> {
    let numbers: Vec<String> = mended.lost.iter().map(ToString::to_string).collect();
    match numbers.as_slice() {
        [] => None,
        [one] => Some(format!("entry {one} is missing")),
        several => Some(format!("entries {} are missing", list(several, "and"))),
    }
}

/// What a record lacks that was made of the whole parts of a damaged one.
pub(super) fn lacks(mended: &Mended) -> String {
    let entries = lost_entries(mended).unwrap_or_else(|| "no entry is missing".to_string());
    let head = if mended.head { ", and of its head there is only what could be read" } else { "" };
    format!("Holds what is whole of the damaged record {}: {entries}{head}.", mended.from)
}

#[cfg(test)]
mod tests {
    use super::percent;

    #[test]
    fn nothing_passes_for_certain() {
        let shown = [0.949_9, 0.95, 0.993_9, 0.999_5, 1.0, 0.000_01, 0.005].map(percent);
        assert_eq!(shown, ["94 %", "95 %", "99.3 %", "> 99.9 %", "> 99.9 %", "< 0.1 %", "0.5 %"]);
    }
}
