//! How a value was worked out: at length on a page, or in a few lines between two questions.

use super::wording::{percent as chance, percents};
use super::{Page, Row};
use crate::engine::CheckDerivation;
use crate::lang::{Called, CoverageInterval, Explanation, IntervalReason, PutIn, Share, Unknown, Value};
use crate::quantity::{SourceId, Uncertain, Units, show, show_with_limits};

/// What limits mean wherever they are shown.
pub(crate) const COVERAGE: &str = "The limits hold the true value at about 95 % (coverage factor 2).";
/// Sources of functions that need no explaining between two questions.
const PLAIN: &[&str] = &["arithmetic", "definition"];
/// How many shares of the uncertainty are told between two questions.
const LARGE: usize = 3;

/// An explanation on a page; `result` is the value as it is to be shown, and what more there is
/// to say of it.
pub(crate) fn explanation_page(
    explanation: &Explanation,
    shares: &[Share],
    result: &[String],
    units: Units,
) -> Page {
    let mut page = Page::titled(explanation.written.as_str());
    let (value, more) = result.split_at(result.len().min(1));
    page.texts(value);
    if !shares.is_empty() {
        page.text(COVERAGE);
    }
    page.texts(more);
    for call in &explanation.calls {
        page.heading(call.function.name);
        page.text(call.function.explanation.sentence);
        page.text(format!(
            "Formula: {}.\nSource: {}.",
            call.function.explanation.formula, call.function.explanation.source
        ));
        put_in(&mut page, &call.arguments, units);
        if call.result != explanation.result {
            page.text(format!("It gives {}.", shown(&call.result, units)));
        }
    }
    let calls: Vec<&Called> = explanation.calls.iter().collect();
    let rows =
        bare_names(explanation, &calls).map(|name| Row::new([name.name.clone(), shown(&name.value, units)]));
    page.headed_table("Other names in it", &["Name", "Value"], rows);
    let rows = shares.iter().map(|share| Row::new([percent(share.percent), share.source.clone()]));
    page.headed_table("Where the uncertainty comes from", &["Share", "Source"], rows);
    page
}

fn put_in(page: &mut Page, arguments: &[PutIn], units: Units) {
    let written = arguments.iter().any(|argument| argument.written.is_some());
    let rows = arguments.iter().map(|argument| {
        let mut row = Row::new([argument.name.clone(), shown(&argument.value, units)]);
        if written {
            row.cells.push(argument.written.clone().unwrap_or_default());
        }
        row
    });
    let head: &[&str] = if written { &["Put in", "Value", "From"] } else { &["Put in", "Value"] };
    page.table(head, rows);
}

/// The interval that draws find for a value, and why it is told beside its limits.
pub(crate) fn interval_words(interval: &CoverageInterval, units: Units) -> String {
    let [low, high] = interval.interval;
    // As many digits as the width of the interval warrants.
    let end = |si: f64| {
        let end = Uncertain::exact(si).with_component(SourceId::Reading(0), (high - low) / 8.0);
        show(interval.measure, &end, units)
    };
    let why = match interval.why {
        IntervalReason::Asymmetric => "The uncertainty is not symmetric here, and the limits do not tell it",
        IntervalReason::OneLimit => {
            "One limit makes up nearly all of the uncertainty, and anything within it is as likely"
        }
    };
    let undefined_share = match interval.undefined_share {
        share if share < 0.005 => String::new(),
        share => format!("; in {:.0} % it cannot be worked out", 100.0 * share),
    };
    format!("{why}: 95 % of 10,000 draws lie between {} and {}{undefined_share}.", end(low), end(high))
}

/// How a check came to its verdict: what was compared, by how much it holds, how sure that is.
pub(crate) fn check_lines(
    what: &str,
    CheckDerivation { how, judgement, margin, confidence, .. }: &CheckDerivation,
    shares: &[Share],
    units: Units,
) -> Vec<String> {
    let mut lines = vec![format!("{what}: {}, {}.", how.written, judgement.verdict.word())];
    lines.extend(names(how.names.iter(), units));
    if let Some((measure, margin)) = margin {
        let (to_spare, margin) = match margin.value() < 0.0 {
            true => ("Missed by", -margin.clone()),
            false => ("To spare", margin.clone()),
        };
        lines.push(format!("{to_spare}: {}.", show_with_limits(*measure, &margin, units)));
    }
    if let Ok(truth) = &judgement.truth {
        if truth.least == truth.most && [0.0, 1.0].contains(&truth.least) {
            lines.push("Nothing in it is uncertain.".to_string());
            return lines;
        }
        let [asked, against] = [*confidence, 1.0 - confidence].map(chance);
        lines.push(format!(
            "It holds with a probability of {}: pass from {asked} on, fail up to {against} (JCGM 106:2012).",
            percents(*truth)
        ));
        lines.extend(judgement.reason.clone());
    }
    lines.extend(largest_shares(shares));
    lines
}

/// An explanation in a few paragraphs: what was worked out, by which formulas from which
/// numbers, and where the uncertainty comes from.
pub(crate) fn explanation_lines(
    what: &str,
    explanation: &Explanation,
    shares: &[Share],
    units: Units,
) -> Vec<String> {
    let written = explanation.renames.as_ref().unwrap_or(&explanation.written);
    let sign = if explanation.result.is_ok() { " =" } else { "," };
    let mut lines = vec![format!("{what}: {written}{sign} {}.", brief(&explanation.result, units))];
    let calls: Vec<&Called> =
        explanation.calls.iter().filter(|call| !PLAIN.contains(&call.function.explanation.source)).collect();
    lines.extend(calls.iter().map(|call| call_line(call, explanation, units)));
    if explanation.renames.is_none() {
        lines.extend(names(bare_names(explanation, &calls), units));
    }
    lines.extend(largest_shares(shares));
    lines
}

/// The largest shares, and all others as one.
fn largest_shares(shares: &[Share]) -> Option<String> {
    let (large, others) = shares.split_at(shares.len().min(LARGE));
    let mut sentences: Vec<String> =
        large.iter().map(|share| format!("{} {}", percent(share.percent), share.source)).collect();
    if !others.is_empty() {
        sentences.push(format!("{} others", percent(others.iter().map(|share| share.percent).sum())));
    }
    (!sentences.is_empty()).then(|| format!("Doubt: {}.", sentences.join("; ")))
}

/// What was put in under names of its own.
fn names<'e>(names: impl Iterator<Item = &'e PutIn>, units: Units) -> Option<String> {
    let names: Vec<String> = names.map(|name| pair(name, units)).collect();
    (!names.is_empty()).then(|| format!("Names: {}.", names.join("; ")))
}

/// A call, with what it gives where that is not the whole.
fn call_line(call: &Called, whole: &Explanation, units: Units) -> String {
    let function = call.function;
    let given: Vec<String> = call.arguments.iter().map(|argument| pair(argument, units)).collect();
    let gives = Some(&call.result).filter(|result| **result != whole.result);
    let gives = gives.map_or(String::new(), |result| format!(" It gives {}.", brief(result, units)));
    format!(
        "{}: {}. Source: {}. Put in: {}.{gives}",
        function.name,
        function.explanation.formula,
        function.explanation.source,
        given.join("; ")
    )
}

fn pair(put_in: &PutIn, units: Units) -> String {
    let from = put_in.written.as_ref().map_or(String::new(), |written| format!(" ({written})"));
    format!("{} {}{from}", put_in.name, brief(&put_in.value, units))
}

/// The names that none of these calls shows among its arguments.
fn bare_names<'e>(explanation: &'e Explanation, calls: &[&Called]) -> impl Iterator<Item = &'e PutIn> {
    let is_argument = |name: &str| {
        let mut arguments = calls.iter().flat_map(|call| &call.arguments);
        arguments.any(|argument| argument.written.as_deref().unwrap_or(&argument.name) == name)
    };
    explanation.names.iter().filter(move |name| !is_argument(&name.name))
}

fn shown(value: &Result<Value, Unknown>, units: Units) -> String {
    match value {
        Ok(value) => value.shown_with_limits(units),
        Err(unknown) => format!("not known: {}", unknown.reason(units).trim_end_matches('.')),
    }
}

/// As a person at the tank reads it: exact values with three digits.
fn brief(value: &Result<Value, Unknown>, units: Units) -> String {
    match value {
        Ok(Value::Amount(_, amount)) if amount.standard_uncertainty() > 0.0 => shown(value, units),
        Ok(value) => value.shown(units),
        Err(_) => shown(value, units),
    }
}

fn percent(share: f64) -> String {
    if share < 0.5 { "< 1 %".to_string() } else { format!("{share:.0} %") }
}
