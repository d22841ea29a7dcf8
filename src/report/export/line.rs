//! What a line of an export is about: one entry, with what its record and procedure say of it.

use crate::quantity::{Family, Measure, Unit, unit};
use crate::record::Entry;
use crate::report::run_view::{EntryView, RunView};

/// One entry about to be exported.
pub(super) struct ExportLine<'a> {
    pub run: &'a RunView<'a>,
    pub seen: EntryView<'a>,
    pub entry: &'a Entry,
    /// When its run began.
    pub started: &'a str,
    /// What its number is.
    pub measure: Option<Measure>,
    pub unit: Option<&'static Unit>,
}

impl<'a> ExportLine<'a> {
    pub(super) fn new(run: &'a RunView<'a>, seen: EntryView<'a>, started: &'a str) -> ExportLine<'a> {
        let (measure, unit) = measured(run, seen.entry);
        ExportLine { run, seen, entry: seen.entry, started, measure, unit }
    }

    /// The tank the entry is about: inside an `each` the one of that round.
    pub(super) fn tank(&self) -> Option<&'a str> {
        let of_round = self.run.steps.tank_number(self.entry).and_then(|number| {
            let at = usize::try_from(number).ok()?.checked_sub(1)?;
            self.run.system?.tanks.get(at).map(|tank| tank.id.as_ref())
        });
        self.entry.tank.as_deref().or(of_round).or(self.run.contents.header.tank.as_deref())
    }

    /// The number in SI units; `None` where it is not sure whether a zero belongs to the unit.
    pub(super) fn si_value(&self) -> Option<f64> {
        let value = self.entry.value?;
        let si = match (self.unit, self.measure) {
            (Some(unit), Some(measure)) => unit.to_si(measure, value),
            (Some(unit), None) if unit.zero == 0.0 && unit.family != Family::Temperature => value * unit.size,
            (None, Some(_)) => value,
            _ => return None,
        };
        Some(si).filter(|si| si.is_finite())
    }

    /// The standard uncertainty in SI units.
    pub(super) fn si_uncertainty(&self) -> Option<f64> {
        self.si_value()?;
        let u = self.entry.uncertainty? * self.unit.map_or(1.0, |unit| unit.size);
        Some(u).filter(|u| u.is_finite())
    }

    /// The SI unit, in ASCII.
    pub(super) fn si_unit(&self) -> Option<&'static str> {
        self.si_value()?;
        Some(match self.unit.map_or(Family::Number, |unit| unit.family) {
            Family::Pressure => "Pa",
            Family::Temperature => "K",
            Family::Volume => "m3",
            Family::Flow => "m3/s",
            Family::Length => "m",
            Family::Mass => "kg",
            Family::Power => "W",
            Family::Time => "s",
            Family::Concentration => "m3/m3",
            Family::MassConcentration => "kg/m3",
            Family::Number => "1",
        })
    }
}

/// What an entry's number is, and in which unit. Without the procedure's word, only where the unit
/// can mean one thing: `psi` may be a gauge pressure or a change.
fn measured(run: &RunView<'_>, entry: &Entry) -> (Option<Measure>, Option<&'static Unit>) {
    if entry.value.is_none() {
        return (None, None);
    }
    let unit = entry.unit.as_deref().and_then(unit);
    let family = match (unit, &entry.unit) {
        (Some(unit), _) => unit.family,
        (None, None) => Family::Number,
        // A unit of a later version.
        (None, Some(_)) => return (None, None),
    };
    let by_step = run.steps.measure(&entry.step).or(entry.kind.is_wait().then_some(Measure::Duration));
    let uncertain = matches!(family, Family::Pressure | Family::Temperature | Family::Time);
    let usual = (!uncertain).then(|| family.usual());
    (by_step.filter(|measure| measure.family() == family).or(usual), unit)
}
