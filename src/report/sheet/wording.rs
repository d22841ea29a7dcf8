//! Expressions in words a person can follow with a pencil.

use crate::quantity::{Measure, Uncertain, Unit, Units, show_roundly, unit_at_start};

/// An expression as written, with every name replaced by what the sheet calls it, and every
/// pressure, volume and length in the household's unit.
pub(super) fn in_words(expression: &str, label: &dyn Fn(&str) -> Option<String>, units: Units) -> String {
    let mut words = String::with_capacity(expression.len());
    let mut rest = expression;
    while let Some(first) = rest.chars().next() {
        if let Some((shown, length)) = amount(rest, units) {
            words.push_str(&shown);
            rest = &rest[length..];
            continue;
        }
        let length = if first == '\'' {
            rest[1..].find('\'').map_or(rest.len(), |end| end + 2)
        } else if is_letter(first) {
            rest.find(|c: char| !is_letter(c) && !c.is_ascii_digit()).unwrap_or(rest.len())
        } else {
            first.len_utf8()
        };
        let (token, after) = rest.split_at(length);
        match Some(token).filter(|_| !after.starts_with('(')).and_then(label) {
            Some(label) => words.push_str(&format!("[{label}]")),
            None => words.push_str(sign(token)),
        }
        rest = after;
    }
    plain(&words)
}

/// An amount at the start of a text in the household's unit, and its length there.
fn amount(text: &str, units: Units) -> Option<(String, usize)> {
    let digits = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let number: f64 = text[..digits].parse().ok()?;
    let (unit, length) = unit_at_start(text[digits..].strip_prefix(' ')?)?;
    let measure = measure(unit)?;
    let si = Uncertain::exact(unit.to_si(measure, number));
    Some((show_roundly(measure, &si, units), digits + 1 + length))
}

/// What a plain amount in this unit is; temperatures may be points or differences, and stay.
fn measure(unit: &Unit) -> Option<Measure> {
    let measures = [Measure::PressureChange, Measure::Volume, Measure::Length];
    measures.into_iter().find(|measure| measure.family() == unit.family)
}

/// Words for what only a program writes so.
fn plain(words: &str) -> String {
    let mut plain = words.replace("==", "is").replace("!=", "is not");
    while let Some(at) = plain.find("known([") {
        let Some(end) = plain[at..].find(')').map(|end| at + end) else { break };
        plain = format!("{}{} filled in{}", &plain[..at], &plain[at + 6..end], &plain[end + 1..]);
    }
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Functions that a pencil can do, each with what it means.
pub(super) const BY_HAND: &[(&str, &str)] = &[
    ("min", "the lowest"),
    ("max", "the highest"),
    ("mean", "the mean"),
    ("sum", "all together"),
    ("count", "how many"),
    ("spread", "the highest less the lowest"),
    ("abs", "without its sign"),
    ("first", "the first"),
    ("last", "the last"),
    ("verdict", "what a check of it would say"),
    ("stabilized", "the last ones are alike"),
];

/// Whether a pencil suffices to work an expression out.
pub(super) fn by_hand(expression: &str) -> bool {
    called(expression).iter().all(|name| *name == "known" || BY_HAND.iter().any(|(hand, _)| hand == name))
}

/// The functions an expression calls.
pub(super) fn called(expression: &str) -> Vec<&str> {
    let before = expression.match_indices('(').map(|(at, _)| &expression[..at]);
    let names = before.map(|text| &text[text.rfind(|c: char| !is_letter(c)).map_or(0, |at| at + 1)..]);
    names.filter(|name| !name.is_empty()).collect()
}

fn is_letter(c: char) -> bool {
    c.is_ascii_lowercase() || c == '_'
}

/// Signs as they are written by hand.
fn sign(token: &str) -> &str {
    match token {
        "*" => "×",
        other => other.trim_matches('\''),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_become_labels_and_words_and_functions_stay() {
        let labels = [("air", "precharge"), ("min", "never")];
        let label =
            |name: &str| labels.iter().find(|(id, _)| *id == name).map(|(_, label)| label.to_string());
        let spelled = |text: &str| in_words(text, &label, Units::Us);
        let expression = "min(air, 2 psi) * 3 == 'air' and known(air) and airy";
        assert_eq!(
            spelled(expression),
            "min([precharge], 2 psi) × 3 is air and [precharge] filled in and airy"
        );
        assert_eq!(in_words("air < 80 psi", &label, Units::Metric), "[precharge] < 5.5 bar");
        assert_eq!(spelled("'open"), "open");
        assert!(by_hand("min(a, b) + (c - known(d))"));
        assert!(!by_hand("precharge_at(a, b, c)"));
    }
}
