//! What the records of one tank tell of its air: one visit a record.

use crate::clock::Moment;
use crate::quantity::{Measure, PSI, SourceId, Uncertain, unit};
use crate::record::{Contents, Entry, EntryKind, effective_entries};

/// Where records tell what a trend needs: the steps and facts, the first that is answered counts.
/// Every procedure that uses these names for the same things is understood.
const FOUND: &[&str] = &["found", "air_after_rest"];
const LEFT: &[&str] = &["charge_left"];
const TEMPERATURE: &[&str] = &["air_temp"];
const TARGET: &[&str] = &["target"];
const WATER_FOUND: &[&str] = &["drawdown_found"];
const WATER_LEFT: &[&str] = &["drawdown_left"];
const ELEVATION: &[&str] = &["elevation"];
/// A step after which another tank stands there.
const NEW_TANK: &[&str] = &["new_tank_stands", "joint_made"];

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
        let recorded = |steps: &[&str], measure, family| first_recorded(&entries, steps, (measure, family));
        let pressure = |steps| recorded(steps, Measure::Pressure, LEAST_UNCERTAINTY);
        let visit = Visit {
            began: header.started,
            found: pressure(FOUND),
            left: pressure(LEFT),
            target: pressure(TARGET),
            temperature: recorded(TEMPERATURE, Measure::Temperature, 0.0),
            water_found: recorded(WATER_FOUND, Measure::Volume, 0.0),
            water_left: recorded(WATER_LEFT, Measure::Volume, 0.0),
            elevation: recorded(ELEVATION, Measure::Length, 0.0),
            transcribed: header.transcribed.is_some(),
            new_tank: entries
                .iter()
                .any(|entry| entry.kind == EntryKind::Done && NEW_TANK.contains(&entry.step.as_str())),
        };
        (visit.found.is_some() || visit.left.is_some()).then_some(visit)
    }
}

/// The last answer to the first of the steps that has one.
fn first_recorded(
    entries: &[&Entry],
    steps: &[&str],
    (measure, least): (Measure, f64),
) -> Option<RecordedValue> {
    steps.iter().find_map(|step| {
        let mut of_step = entries.iter().rev().filter(|entry| entry.step == *step);
        of_step.find_map(|entry| recorded_value(entry, measure, least))
    })
}

fn recorded_value(entry: &Entry, measure: Measure, least: f64) -> Option<RecordedValue> {
    let unit = unit(entry.unit.as_deref()?).filter(|unit| unit.family == measure.family())?;
    let si = unit.to_si(measure, entry.value?);
    let u = (entry.uncertainty.unwrap_or(0.0) * unit.size).max(least);
    let value = Uncertain::exact(si).with_component(SourceId::Reading(entry.n), u);
    si.is_finite().then_some(RecordedValue { value, at: entry.at })
}
