//! What the records of one tank tell of its air: one visit a record.

use crate::clock::Moment;
use crate::quantity::{Measure, PSI, SourceId, Uncertain, unit};
use crate::record::{Contents, Entry, Phase, effective_entries, observed, temperature_at};

/// No precharge is known better than to half a mark of a dial with half-psi marks; Pa.
const LEAST_UNCERTAINTY: f64 = 0.25 * PSI;

/// A number a record tells, and when it was read.
#[derive(Clone, Debug)]
pub struct RecordedValue {
    /// In SI units.
    pub value: Uncertain,
    /// When.
    pub at: Moment,
}

/// What one closed record tells.
#[derive(Clone, Debug)]
pub struct Visit {
    /// When the work began.
    pub began: Moment,
    /// The precharge as it was found.
    pub found: Option<RecordedValue>,
    /// The precharge as it was left; only where the air was set.
    pub left: Option<RecordedValue>,
    /// How warm the tank was.
    pub temperature: Option<RecordedValue>,
    /// The precharge that was wanted, at that temperature.
    pub target: Option<RecordedValue>,
    /// The water the tank gave before the work.
    pub water_found: Option<RecordedValue>,
    /// The water it gave after the work.
    pub water_left: Option<RecordedValue>,
    /// How high the place lies.
    pub elevation: Option<RecordedValue>,
    /// It was typed in from a sheet filled in by hand.
    pub transcribed: bool,
    /// Another tank was put there.
    pub new_tank: bool,
}

impl Visit {
    /// What a record tells of a tank; `None` when it has no precharge of it.
    pub fn of(contents: &Contents, tank: Option<&str>) -> Option<Visit> {
        let header = &contents.header;
        let mine = |entry: &Entry| entry.tank.as_deref().or(header.tank.as_deref()) == tank;
        let entries: Vec<&Entry> = effective_entries(&contents.entries).filter(|entry| mine(entry)).collect();
        let seen_at = |observable, phase| observed(&entries, observable, phase);
        let pressure = |entry: Option<&Entry>| recorded_value(entry?, Measure::Pressure, LEAST_UNCERTAINTY);
        let amount = |entry: Option<&Entry>, measure| recorded_value(entry?, measure, 0.0);
        let [found, left] = [Phase::Found, Phase::Left].map(|phase| seen_at("precharge", Some(phase)));
        let [water_found, water_left] =
            [Phase::Found, Phase::Left].map(|phase| seen_at("drawdown", Some(phase)));
        let temperature = found.or(left).and_then(|precharge| temperature_at(&entries, precharge));
        let visit = Visit {
            began: header.started,
            found: pressure(found),
            left: pressure(left),
            target: pressure(seen_at("target_precharge", None)),
            temperature: amount(temperature, Measure::Temperature),
            water_found: amount(water_found, Measure::Volume),
            water_left: amount(water_left, Measure::Volume),
            elevation: amount(seen_at("elevation", None), Measure::Length),
            transcribed: header.transcribed.is_some(),
            new_tank: seen_at("tank_replaced", None).is_some(),
        };
        (visit.found.is_some() || visit.left.is_some()).then_some(visit)
    }
}

fn recorded_value(entry: &Entry, measure: Measure, least: f64) -> Option<RecordedValue> {
    let unit = unit(entry.unit.as_deref()?).filter(|unit| unit.family == measure.family())?;
    let si = unit.to_si(measure, entry.value?);
    let u = (entry.uncertainty.unwrap_or(0.0) * unit.size).max(least);
    let value = Uncertain::exact(si).with_component(SourceId::Reading(entry.n), u);
    si.is_finite().then_some(RecordedValue { value, at: entry.at })
}
