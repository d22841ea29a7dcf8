//! What an owner remembers of the work so far.

use crate::quantity::unit;
use crate::record::Entry;

/// What was read, computed and noticed.
#[derive(Clone, Debug, Default)]
pub(super) struct Memory {
    /// Newest values in SI, by what they are of.
    pub(super) values: Vec<(String, f64)>,
    /// The breaker is believed off.
    pub breaker_off: bool,
    /// The pump started with its breaker believed off.
    pub pump_was_live: bool,
    /// Which breaker is the pump's was found out.
    pub knows_breaker: bool,
    /// Tanks whose valves the owner shut.
    pub isolated: Vec<usize>,
    /// Air was put in for a test.
    pub air_added: bool,
    /// How fast the needle fell as the pump started, Pa/s.
    pub last_fall: f64,
    /// The pump is to fill the tank, and that is what is looked at.
    pub filling: bool,
    /// How many wishes for a pressure were told.
    pub wishes: usize,
    /// A mistake that is made once was made.
    pub misread_line: bool,
    pub misread_air: bool,
    pub miscounted: bool,
}

impl Memory {
    /// Takes in what came about in a run.
    pub(super) fn learn<'e>(&mut self, entries: impl IntoIterator<Item = &'e Entry>) {
        for entry in entries {
            let Some((observable, si)) = number_of(entry) else { continue };
            self.values.retain(|(known, _)| *known != observable);
            self.values.push((observable, si));
        }
    }

    /// The newest value of an observable, SI.
    pub(super) fn newest(&self, observable: &str) -> Option<f64> {
        self.values.iter().find(|(known, _)| known == observable).map(|(_, si)| *si)
    }
}

/// What a reading or a computed value is of, and its value in SI.
fn number_of(entry: &Entry) -> Option<(String, f64)> {
    if !entry.kind.is_measured() {
        return None;
    }
    let observable = crate::procedure::observable(entry.observes.as_deref()?)?;
    let crate::procedure::Observed::Number(measure) = observable.observed else { return None };
    let (unit, value) = (entry.unit.as_deref().and_then(unit), entry.value?);
    let si = unit.map_or(value, |unit| unit.to_si(measure, value));
    Some((observable.name.to_string(), si))
}
