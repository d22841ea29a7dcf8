//! What an entry answered, in words: numbers with their limits, rounds in a row.

use super::wording::verdict_words;
use crate::quantity::{
    Family, Measure, SourceId, Uncertain, Unit, Units, show_briefly, show_number, show_with_limits, unit,
};
use crate::record::{Entry, EntryKind, Provenance};

/// A run of at least this many equal answers is told by its count.
const LONG_RUN: usize = 3;

/// What an entry answered: a number with its limits at about 95 %, a verdict, words.
pub(super) fn answer(entry: &Entry) -> String {
    let given = || entry.given.clone().unwrap_or_default();
    match entry.kind {
        EntryKind::Understood => "read and understood".to_string(),
        EntryKind::Done => "done".to_string(),
        EntryKind::NotSo => format!("{}: it was not so", given()),
        EntryKind::Checked => verdict_words(entry).unwrap_or_else(given),
        EntryKind::Skipped => match &entry.reason {
            Some(reason) => format!("skipped: {reason}"),
            None => "skipped".to_string(),
        },
        EntryKind::Stopped | EntryKind::Message => entry.said.clone().unwrap_or_default(),
        EntryKind::Finding => finding_words(entry),
        EntryKind::Note => entry.reason.clone().unwrap_or_default(),
        EntryKind::Computed if entry.value.is_none() && entry.given.is_none() => match &entry.reason {
            Some(reason) => format!("not known: {reason}"),
            None => entry.said.clone().unwrap_or_default(),
        },
        EntryKind::WaitBegun => format!("wait of {} begun", amount(entry).unwrap_or_default()),
        EntryKind::Fact | EntryKind::Reading => marked(amount(entry).unwrap_or_else(given), entry),
        EntryKind::Computed
        | EntryKind::Choice
        | EntryKind::Text
        | EntryKind::Waited
        | EntryKind::Withdrawn
        | EntryKind::Paused
        | EntryKind::Resumed => amount(entry).unwrap_or_else(given),
    }
}

/// An entry's number with its unit, without limits: these stand in the record.
pub(super) fn plainly(entry: &Entry) -> String {
    match (entry.value, &entry.unit) {
        (Some(value), Some(unit)) => {
            format!("{} {unit}", show_number(value, entry.uncertainty.unwrap_or(0.0)))
        }
        _ => answer(entry),
    }
}

/// An answer that nobody gave as their own, marked as what it is.
pub(super) fn marked(answer: String, entry: &Entry) -> String {
    let is = |kind, provenance| entry.kind == kind && entry.provenance == Some(provenance);
    if is(EntryKind::Fact, Provenance::Assumed) {
        format!("{answer} (assumed, not confirmed)")
    } else if is(EntryKind::Reading, Provenance::Recalled) {
        format!("{answer} (by an earlier record)")
    } else {
        answer
    }
}

/// A finding with what to do about it, and by when.
pub(crate) fn finding_words(entry: &Entry) -> String {
    let due = entry.due.map(|due| format!("By {}.", due.date()));
    [entry.said.clone(), entry.to_do(), due].into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// An entry's number with its unit and its limits: `36.2 ± 0.9 psi`; `None` without a number.
pub(super) fn amount(entry: &Entry) -> Option<String> {
    let value = entry.value.filter(|value| value.is_finite())?;
    let u = entry.uncertainty.filter(|u| u.is_finite() && *u > 0.0).unwrap_or(0.0);
    let uncertain = |measure, scale: f64| {
        let amount = Uncertain::exact(value * scale).with_component(SourceId::Reading(1), u * scale);
        // What was worked out from exact numbers has digits that no one has use for.
        match entry.kind != EntryKind::Reading && u == 0.0 {
            true => show_briefly(measure, &amount, Units::default()),
            false => show_with_limits(measure, &amount, Units::default()),
        }
    };
    match time_unit(entry) {
        // So many minutes since 1970 are an instant; its words say it better.
        Some(time) if (value * time.size).abs() > 1e9 => None,
        Some(time) => Some(uncertain(Measure::Duration, time.size)),
        None => Some(with_unit(uncertain(Measure::Number, 1.0), entry)),
    }
}

fn time_unit(entry: &Entry) -> Option<&'static Unit> {
    entry.unit.as_deref().and_then(unit).filter(|unit| unit.family == Family::Time)
}

fn with_unit(number: String, entry: &Entry) -> String {
    match &entry.unit {
        Some(unit) => format!("{number} {unit}"),
        None => number,
    }
}

/// Several answers to one question, in their order: `40, 38, 36.5 psi (each ± 2.0 psi)`,
/// `dirty, cloudy, clear x3`. One is told as by itself.
pub(super) fn in_a_row(entries: &[&Entry]) -> String {
    let [first, .., _] = entries else {
        return entries.first().map_or_else(String::new, |entry| answer(entry));
    };
    let alike: Vec<Entry> = entries.iter().map(|entry| in_unit_of(first, entry)).collect();
    let entries: &[&Entry] = &alike.iter().collect::<Vec<_>>();
    let numbers = entries.iter().all(|entry| entry.value.is_some_and(f64::is_finite));
    let one_unit = entries.iter().all(|entry| entry.unit == first.unit);
    if !numbers || !one_unit || time_unit(first).is_some() {
        return runs(entries.iter().map(|entry| answer(entry)).collect());
    }
    let row = with_unit(runs(entries.iter().map(|entry| bare(entry)).collect()), first);
    let limits: Vec<Option<String>> = entries.iter().map(|entry| limit(entry)).collect();
    match entries.last().and_then(|last| limit(last)) {
        Some(one) if limits.iter().all(|limit| limit.as_ref() == Some(&one)) => {
            format!("{row} (each ± {})", with_unit(one, first))
        }
        Some(one) => format!("{row} (the last ± {})", with_unit(one, first)),
        None => row,
    }
}

/// An answer in the unit of the first, where both are of one kind and have one zero.
fn in_unit_of(first: &Entry, entry: &Entry) -> Entry {
    let [own, other] = [entry, first].map(|entry| entry.unit.as_deref().and_then(unit));
    let mut converted = entry.clone();
    if let Some((own, other)) = own.zip(other).filter(|(own, other)| {
        own.family == other.family && own.symbol != other.symbol && own.family != Family::Temperature
    }) {
        let scaled = |number: f64| number * own.size / other.size;
        (converted.value, converted.uncertainty) =
            (converted.value.map(scaled), converted.uncertainty.map(scaled));
        converted.unit.clone_from(&first.unit);
    }
    converted
}

/// The number alone: a reading as it was read, a computed one with the digits it warrants.
fn bare(entry: &Entry) -> String {
    let u = entry.uncertainty.filter(|_| entry.kind == EntryKind::Computed).unwrap_or(0.0);
    show_number(entry.value.unwrap_or(0.0), if u.is_finite() { u } else { 0.0 })
}

/// The limit at about 95 % alone.
fn limit(entry: &Entry) -> Option<String> {
    let u = entry.uncertainty.filter(|u| u.is_finite() && *u > 0.0)?;
    let value = Uncertain::exact(entry.value?).with_component(SourceId::Reading(1), u);
    let shown = show_with_limits(Measure::Number, &value, Units::default());
    shown.split_once(" ± ").map(|(_, limit)| limit.to_string())
}

/// Words in a row, with equal neighbours told by their count.
fn runs(words: Vec<String>) -> String {
    let text = words.chunk_by(|a, b| a == b).flat_map(|run| match run {
        [word, ..] if run.len() >= LONG_RUN => vec![format!("{word} x{}", run.len())],
        short => short.to_vec(),
    });
    text.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::Moment;

    fn entry(kind: EntryKind, value: f64, unit: Option<&str>, u: Option<f64>) -> Entry {
        let at = Moment::parse("2031-04-05T09:01:00-05:00").unwrap();
        let unit = unit.map(ToString::to_string);
        Entry { value: Some(value), unit, uncertainty: u, ..Entry::new(kind, "x", at) }
    }

    /// The limits are twice the standard uncertainty (coverage factor 2, JCGM 100:2008, 6.2.1).
    #[test]
    fn numbers_are_told_with_limits_in_the_unit_they_have() {
        use EntryKind::{Computed, Reading, Waited};
        let table = [
            (entry(Reading, 36.5, Some("psi"), Some(1.0)), "36.5 ± 2.0 psi"),
            (entry(EntryKind::Fact, 3.4474, Some("bar"), None), "3.45 bar"),
            (entry(Reading, 36.237, Some("psi"), Some(0.45)), "36.2 ± 0.9 psi"),
            (entry(Reading, 2.5, Some("bar"), None), "2.5 bar"),
            (entry(Computed, 68.0, Some("°F"), Some(0.5)), "68.0 ± 1.0 °F"),
            (entry(Computed, 7.0, None, None), "7"),
            (entry(Waited, 900.0, Some("s"), None), "15 min"),
            (entry(Waited, 1.5, Some("min"), None), "90 s"),
            (entry(Computed, 2.0, Some("cubits"), None), "2 cubits"),
            (entry(Computed, 2.0, Some("psi"), Some(f64::NAN)), "2 psi"),
        ];
        for (entry, text) in table {
            assert_eq!(answer(&entry), text);
        }
    }

    #[test]
    fn what_nobody_gave_as_an_answer_is_marked() {
        use Provenance::{Assumed, Chosen, Measured, Recalled};
        let plate = |provenance| Entry {
            provenance: Some(provenance),
            ..entry(EntryKind::Fact, 75.0, Some("psi"), None)
        };
        let read = |provenance| Entry { kind: EntryKind::Reading, ..plate(provenance) };
        let words = |given: &str| Entry { value: None, given: Some(given.to_string()), ..plate(Chosen) };
        let table = [
            (plate(Chosen), "75 psi"),
            (plate(Assumed), "75 psi (assumed, not confirmed)"),
            (words("not known"), "not known"),
            (read(Measured), "75 psi"),
            (read(Recalled), "75 psi (by an earlier record)"),
        ];
        for (entry, text) in table {
            assert_eq!(answer(&entry), text);
        }
    }

    #[test]
    fn rounds_are_told_in_a_row() {
        use EntryKind::{Computed, Reading};
        let psi = |value, u| entry(Reading, value, Some("psi"), Some(u));
        let row = |entries: &[Entry]| in_a_row(&entries.iter().collect::<Vec<_>>());
        assert_eq!(row(&[psi(40.0, 1.0), psi(36.5, 1.0)]), "40, 36.5 psi (each ± 2.0 psi)");
        assert_eq!(row(&[psi(40.0, 1.0), psi(36.5, 0.3)]), "40, 36.5 psi (the last ± 0.6 psi)");
        assert_eq!(row(&[psi(40.0, 1.0), entry(Reading, 2.5, Some("bar"), None)]), "40, 36.259 psi");
        let kpa = entry(Reading, 160.0, Some("kPa"), Some(2.0));
        assert_eq!(
            row(&[entry(Reading, 1.5, Some("bar"), Some(0.02)), kpa]),
            "1.5, 1.6 bar (each ± 0.04 bar)"
        );
        assert_eq!(
            row(&[entry(Computed, 3.333, None, Some(0.25)), psi(1.0, 1.0)]),
            "3.3 ± 0.5, 1.0 ± 2.0 psi"
        );
        let word =
            |word: &str| Entry { given: Some(word.into()), ..entry(EntryKind::Choice, f64::NAN, None, None) };
        let words = ["dirty", "dirty", "cloudy", "clear", "clear", "clear"].map(word);
        assert_eq!(row(&words), "dirty, dirty, cloudy, clear x3");
    }
}
