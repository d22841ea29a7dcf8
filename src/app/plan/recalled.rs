//! What the newest records tell of an installation: measured goes before what a label says.

use std::collections::BTreeMap;

use crate::app::past::by_tank;
use crate::app::{Home, Result};
use crate::quantity::{Measure, SourceId, Uncertain, unit};
use crate::record::{Entry, FolderAccount, Glance, RecordList, list, read, recalled, si_of};
use crate::report::BasisKind;
use crate::system::System;

/// What a plan asks of records.
const ASKED: &[(&str, Measure)] = &[
    ("cut_in", Measure::Pressure),
    ("cut_out", Measure::Pressure),
    ("precharge", Measure::Pressure),
    ("tank_temperature", Measure::Temperature),
    ("drawdown", Measure::Volume),
    ("run_time", Measure::Duration),
];

/// Something measured, and on which day, in which record.
#[derive(Clone, Debug)]
pub(super) struct MeasuredValue {
    pub value: Uncertain,
    pub when: String,
}

impl MeasuredValue {
    /// The value with where it comes from.
    pub(super) fn known(&self) -> (Uncertain, BasisKind) {
        (self.value.clone(), BasisKind::Measured(self.when.clone()))
    }
}

/// What was measured at each tank.
#[derive(Debug, Default)]
pub(super) struct Measured {
    values: BTreeMap<(String, &'static str), MeasuredValue>,
    /// What became of the files of records.
    pub account: FolderAccount,
}

impl Measured {
    /// From the newest closed records of the installation that tell of it; records of other places are passed
    /// over.
    ///
    /// # Errors
    /// When the folder cannot be read.
    pub(super) fn of(system: &System, home: &Home) -> Result<Measured> {
        let RecordList { records, account } = list(&home.records())?;
        let mut measured = Measured { account, ..Measured::default() };
        let known = |name: &str| system.tanks.iter().any(|tank| tank.id.as_ref() == name);
        let fits = |glance: &Glance| {
            glance.outcome.is_some()
                && glance.site == system.name
                && (!glance.demo || system.invented)
                && glance.tanks.iter().any(|name| known(name))
        };
        for glance in records.into_iter().filter(fits) {
            let when = format!("{} ({})", glance.started.date(), glance.id);
            match read(&glance.path) {
                Ok(contents) => measured.note(&contents.entries, contents.header.tank.as_deref(), &when),
                Err(fault) => measured.account.retract(Some(fault)),
            }
        }
        Ok(measured)
    }

    /// Notes what a record tells of each of its tanks, where no newer one did.
    fn note(&mut self, entries: &[Entry], tank: Option<&str>, when: &str) {
        for (tank, entries) in by_tank(entries, tank) {
            let Some(tank) = tank else { continue };
            for (observable, measure) in ASKED {
                let value = recalled(&entries, observable).and_then(|entry| value_of(entry, *measure));
                if let Some(value) = value {
                    let found = MeasuredValue { value, when: when.to_string() };
                    self.values.entry((tank.to_string(), observable)).or_insert(found);
                }
            }
        }
    }

    /// What was measured at a tank.
    pub(super) fn at(&self, tank: &str, observable: &'static str) -> Option<&MeasuredValue> {
        self.values.get(&(tank.to_string(), observable))
    }

    /// What was measured at any tank of an installation.
    pub(super) fn anywhere(&self, system: &System, observable: &'static str) -> Option<&MeasuredValue> {
        let found = system.tanks.iter().filter_map(|tank| self.at(&tank.id, observable));
        found.max_by(|a, b| a.when.cmp(&b.when))
    }
}

fn value_of(entry: &Entry, measure: Measure) -> Option<Uncertain> {
    let si = si_of(entry, measure)?;
    let u = entry.uncertainty.unwrap_or(0.0) * unit(entry.unit.as_deref()?)?.size;
    let source = SourceId::spread_of((measure, entry.n, entry.at.unix_seconds()));
    Some(Uncertain::exact(si).with_component(source, u))
}
