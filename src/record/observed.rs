//! Which of a record's entries stands for a thing that was observed.

use super::{Entry, EntryKind, Phase};
use crate::quantity::{Measure, unit};

/// What goes with every precharge: the same air shows less in the cold.
const TEMPERATURE: &str = "tank_temperature";
const PRECHARGE: &str = "precharge";

/// The entry that stands for an observable, in one phase of the work or in any.
///
/// What was worked out goes before the readings it was made from; of several the last counts.
/// `entries` are those in effect, of one tank, in their order.
///
/// ```
/// use tankhand::clock::Moment;
/// use tankhand::record::{Entry, EntryKind, Phase, observed};
/// let at = Moment::parse("2031-04-05T09:01:00-05:00").unwrap();
/// let told = |kind, step, phase| Entry {
///     observes: Some("cut_in".to_string()),
///     phase: Some(phase),
///     value: Some(40.0),
///     ..Entry::new(kind, step, at)
/// };
/// let lowest = told(EntryKind::Computed, "lowest", Phase::Found);
/// let watched = told(EntryKind::Reading, "watched", Phase::Found);
/// let again = told(EntryKind::Reading, "again", Phase::Left);
/// let entries = [&lowest, &watched, &again];
/// let step = |phase| observed(&entries, "cut_in", phase).map(|entry| entry.step.as_str());
/// assert_eq!(step(Some(Phase::Found)), Some("lowest"));
/// assert_eq!(step(Some(Phase::Left)), Some("again"));
/// assert_eq!(observed(&entries, "cut_out", None), None);
/// ```
pub fn observed<'e>(entries: &[&'e Entry], observable: &str, phase: Option<Phase>) -> Option<&'e Entry> {
    let tells = |entry: &Entry| {
        let has_one = entry.value.is_some() || entry.given.is_some();
        let answered = has_one && !entry.kind.is_without_value();
        answered && entry.observes.as_deref() == Some(observable) && (phase.is_none() || entry.phase == phase)
    };
    let last = |computed: bool| {
        let of_kind = |entry: &Entry| (entry.kind == EntryKind::Computed) == computed;
        entries.iter().rev().find(|entry| of_kind(entry) && tells(entry)).copied()
    };
    last(true).or_else(|| last(false))
}

/// The temperature of the tank that a precharge was read at: the newest reading before it that is
/// not of an earlier visit.
pub fn temperature_at<'e>(entries: &[&'e Entry], precharge: &Entry) -> Option<&'e Entry> {
    let before = |entry: &&Entry| {
        entry.n < precharge.n
            && entry.kind == EntryKind::Reading
            && entry.phase != Some(Phase::Before)
            && entry.observes.as_deref() == Some(TEMPERATURE)
    };
    entries.iter().rev().copied().find(before)
}

/// What a later visit is told of an observable: as it was left, else as it was found, else the
/// last that is known. A temperature is that of the precharge.
pub fn recalled<'e>(entries: &[&'e Entry], observable: &str) -> Option<&'e Entry> {
    if observable == TEMPERATURE {
        return temperature_at(entries, recalled(entries, PRECHARGE)?);
    }
    let in_phase = |phase| observed(entries, observable, phase);
    in_phase(Some(Phase::Left))
        .or_else(|| in_phase(Some(Phase::Found)))
        .or_else(|| in_phase(None).filter(|entry| entry.phase != Some(Phase::Before)))
}

/// An entry's number in SI units, where its unit is known and of that measure.
///
/// ```
/// use tankhand::clock::Moment;
/// use tankhand::quantity::Measure;
/// use tankhand::record::{Entry, EntryKind, si_of};
/// let at = Moment::parse("2031-04-05T09:01:00-05:00").unwrap();
/// let told = |unit: &str| Entry {
///     value: Some(2.0),
///     unit: Some(unit.to_string()),
///     ..Entry::new(EntryKind::Reading, "watched", at)
/// };
/// assert_eq!(si_of(&told("bar"), Measure::Pressure), Some(200_000.0));
/// assert_eq!(si_of(&told("gal"), Measure::Pressure), None);
/// ```
pub fn si_of(entry: &Entry, measure: Measure) -> Option<f64> {
    let unit = unit(entry.unit.as_deref()?).filter(|unit| unit.family == measure.family())?;
    Some(unit.to_si(measure, entry.value?)).filter(|si| si.is_finite())
}
