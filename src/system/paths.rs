//! The one table of what a system file may hold.

use crate::quantity::{Kind, Measure, read_number};

/// The kind of a value in a system file, in a form a table can hold.
#[derive(Clone, Copy, Debug)]
pub enum PathKind {
    /// A measured value, written as a text with its unit.
    Measure(Measure),
    /// `true` or `false`.
    YesNo,
    /// A text.
    Text,
    /// One of these words.
    Words(&'static [&'static str]),
}

impl PathKind {
    /// The kind, as the rest of the program knows it.
    pub fn kind(self) -> Kind {
        match self {
            PathKind::Measure(measure) => Kind::Measure(measure),
            PathKind::YesNo => Kind::YesNo,
            PathKind::Text => Kind::Text,
            PathKind::Words(words) => Kind::one_of(words),
        }
    }
}

/// One thing a system file may say.
#[derive(Debug)]
pub struct PathEntry {
    /// Table and key, such as `switch.cut_in`; a key at the top stands alone.
    pub path: &'static str,
    /// Its kind.
    pub kind: PathKind,
    /// What it is.
    pub means: &'static str,
}

const fn entry(path: &'static str, kind: PathKind, means: &'static str) -> PathEntry {
    PathEntry { path, kind, means }
}

/// Everything a system file may say, gauges apart.
pub static PATHS: &[PathEntry] = &[
    entry("elevation", PathKind::Measure(Measure::Length), "height of the place above sea level"),
    entry("warmest", PathKind::Measure(Measure::Temperature), "warmest it gets where the tanks stand"),
    entry("coldest", PathKind::Measure(Measure::Temperature), "coldest it gets where the tanks stand"),
    entry("gap", PathKind::Measure(Measure::PressureChange), "how far below cut-in the precharge is to be"),
    entry(
        "more_tanks",
        PathKind::YesNo,
        "other pressure tanks on the same line; so it is where two or more stand below",
    ),
    entry("jar_marks", PathKind::YesNo, "a jar or cone with marks, to measure settled solids"),
    entry(
        "switch.cut_in",
        PathKind::Measure(Measure::Pressure),
        "pressure at which the pump starts, as the label says",
    ),
    entry(
        "switch.cut_out",
        PathKind::Measure(Measure::Pressure),
        "pressure at which the pump stops, as the label says",
    ),
    entry("switch.lever", PathKind::YesNo, "a low-pressure cut-off lever on the switch"),
    entry("pump.kind", PathKind::Words(&["submersible", "jet", "other"]), "the kind of pump"),
    entry("pump.control", PathKind::Words(&["switch", "valve", "drive"]), "what runs the pump"),
    entry("pump.flow", PathKind::Measure(Measure::Flow), "what the pump brings"),
    entry("pump.power", PathKind::Measure(Measure::Power), "the pump's power, as its plate says"),
    entry(
        "pump.set_pressure",
        PathKind::Measure(Measure::Pressure),
        "what a constant-pressure valve or drive holds",
    ),
    entry(
        "pump.precharge",
        PathKind::Measure(Measure::Pressure),
        "precharge that the maker of valve or drive asks for",
    ),
    entry("relief.present", PathKind::YesNo, "a pressure relief valve"),
    entry("relief.setting", PathKind::Measure(Measure::Pressure), "pressure at which the relief valve opens"),
    entry("house.valve", PathKind::YesNo, "a valve that shuts the house off"),
    entry("house.treatment", PathKind::YesNo, "a softener or filter behind the tanks"),
    entry(
        "layout.drain",
        PathKind::Words(&["tank", "tee"]),
        "where the drain valve sits: between isolation valve and tank, or on the tank tee",
    ),
    entry(
        "layout.controls",
        PathKind::Words(&["line", "tank"]),
        "where switch, gauge and relief valve sit: all on the pump's side of the isolation valve, or not",
    ),
    entry(
        "layout.tank_valves",
        PathKind::YesNo,
        "of several tanks: whether every one has its own isolation valve",
    ),
    entry(
        "layout.spigot",
        PathKind::Words(&["line", "house", "none"]),
        "a yard spigot: on the pump's side of the house's shutoff valve, behind it, or none",
    ),
    entry(
        "layout.check_valve",
        PathKind::Words(&["well", "tee", "unknown"]),
        "where the check valve sits: in the well, or before the tank tee",
    ),
    entry("tank.name", PathKind::Text, "what the owner calls the tank"),
    entry("tank.kind", PathKind::Words(&["bladder", "diaphragm", "plain", "unsure"]), "the kind of tank"),
    entry("tank.plate", PathKind::Text, "model, serial number and date, as its plate says"),
    entry("tank.plate_photo", PathKind::Text, "where a photo of its plate lies"),
    entry("tank.volume", PathKind::Measure(Measure::Volume), "whole volume, from the plate"),
    entry("tank.limit", PathKind::Measure(Measure::Pressure), "highest pressure the plate allows"),
    entry("tank.height", PathKind::Measure(Measure::Length), "how much higher than the switch it stands"),
    entry("tank.charge", PathKind::Measure(Measure::Pressure), "precharge as last set"),
];

/// What each measured value can be at the very most, as a person would write it; values outside
/// are slips of the pen or of the unit. Common practice, and the ranges that procedures ask within.
static BETWEEN: &[(&str, &str, &str)] = &[
    ("elevation", "-1500 ft", "15000 ft"),
    ("warmest", "-40 degF", "150 degF"),
    ("coldest", "-40 degF", "150 degF"),
    ("gap", "1 psi", "10 psi"),
    ("switch.cut_in", "5 psi", "120 psi"),
    ("switch.cut_out", "10 psi", "150 psi"),
    ("pump.flow", "0.1 gal/min", "500 gal/min"),
    ("pump.power", "0.1 hp", "20 hp"),
    ("pump.set_pressure", "10 psi", "150 psi"),
    ("pump.precharge", "5 psi", "100 psi"),
    ("relief.setting", "30 psi", "300 psi"),
    ("tank.volume", "1 gal", "500 gal"),
    ("tank.limit", "40 psi", "300 psi"),
    ("tank.height", "-100 ft", "100 ft"),
    ("tank.charge", "0 psi", "150 psi"),
];

impl PathEntry {
    /// The least and the most that a measured value can be, SI.
    pub(super) fn between(&self) -> Option<(f64, f64)> {
        let PathKind::Measure(measure) = self.kind else { return None };
        let (_, low, high) = BETWEEN.iter().find(|(path, ..)| *path == self.path)?;
        let si = |text: &str| {
            let typed = read_number(text, measure.family()).ok()?;
            Some(typed.unit?.to_si(measure, typed.number))
        };
        Some((si(low)?, si(high)?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_measured_value_has_its_range() {
        for entry in PATHS.iter().filter(|entry| matches!(entry.kind, PathKind::Measure(_))) {
            assert!(entry.between().is_some_and(|(low, high)| low < high), "{}", entry.path);
        }
    }

    #[test]
    fn paths_are_a_key_or_a_table_and_a_key() {
        for entry in PATHS {
            assert!(entry.path.split('.').count() <= 2, "{}", entry.path);
            assert_eq!(PATHS.iter().filter(|other| other.path == entry.path).count(), 1);
        }
    }
}
