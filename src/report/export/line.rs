//! What a line of an export is about: one entry, with what its record and procedure say of it.

use std::collections::BTreeMap;

use crate::procedure::Procedure;
use crate::quantity::{Family, Measure, Unit, unit};
use crate::record::{Contents, Entry, EntryKind, are_effective, struck};
use crate::report::steps::Steps;
use crate::system::System;

/// A record about to be exported.
pub struct ExportedRecord<'a> {
    pub(super) contents: &'a Contents,
    steps: Steps<'a>,
    system: Option<&'a System>,
    counts: Vec<bool>,
    struck: BTreeMap<u64, u64>,
}

/// One entry about to be exported.
pub(super) struct ExportLine<'a> {
    pub record: &'a ExportedRecord<'a>,
    pub entry: &'a Entry,
    pub label: String,
    /// Whether it still counts.
    pub counts: bool,
    /// The entry that struck it.
    pub struck_by: Option<u64>,
    /// What its number is.
    pub measure: Option<Measure>,
    pub unit: Option<&'static Unit>,
}

impl<'a> ExportedRecord<'a> {
    /// A record with the procedure and system file it keeps, where these can be read.
    pub fn new(
        contents: &'a Contents,
        procedure: Option<&'a Procedure>,
        system: Option<&'a System>,
    ) -> ExportedRecord<'a> {
        ExportedRecord {
            contents,
            steps: Steps::of(procedure),
            system,
            counts: are_effective(&contents.entries),
            struck: struck(&contents.entries),
        }
    }

    /// Its lines, in the order of the entries.
    pub(super) fn lines(&'a self) -> impl Iterator<Item = ExportLine<'a>> {
        self.contents.entries.iter().zip(&self.counts).map(|(entry, counts)| {
            let (measure, unit) = self.measured(entry);
            ExportLine {
                record: self,
                entry,
                label: self.steps.label(&entry.step),
                counts: *counts,
                struck_by: self.struck.get(&entry.n).copied(),
                measure,
                unit,
            }
        })
    }

    /// What an entry's number is, and in which unit. Without the procedure's word, only where
    /// the unit leaves no uncertainty: `psi` may be a gauge pressure or a change.
    fn measured(&self, entry: &Entry) -> (Option<Measure>, Option<&'static Unit>) {
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
        let waits = matches!(entry.kind, EntryKind::WaitBegun | EntryKind::Waited);
        let by_step = self.steps.measure(&entry.step).or(waits.then_some(Measure::Duration));
        let uncertain = matches!(family, Family::Pressure | Family::Temperature | Family::Time);
        let usual = (!uncertain).then(|| family.usual());
        (by_step.filter(|measure| measure.family() == family).or(usual), unit)
    }

    /// The tank an entry is about: inside an `each` the one of that round.
    pub(super) fn tank<'e>(&'e self, entry: &'e Entry) -> Option<&'e str> {
        let of_round = self.steps.tank_number(entry).and_then(|number| {
            let at = usize::try_from(number).ok()?.checked_sub(1)?;
            self.system?.tanks.get(at).map(|tank| tank.id.as_ref())
        });
        entry.tank.as_deref().or(of_round).or(self.contents.header.tank.as_deref())
    }
}

impl ExportLine<'_> {
    /// The number in SI units; `None` where it is not sure whether a zero belongs to the unit.
    pub fn si_value(&self) -> Option<f64> {
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
    pub fn si_uncertainty(&self) -> Option<f64> {
        self.si_value()?;
        let u = self.entry.uncertainty? * self.unit.map_or(1.0, |unit| unit.size);
        Some(u).filter(|u| u.is_finite())
    }

    /// The SI unit, in ASCII.
    pub fn si_unit(&self) -> Option<&'static str> {
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
