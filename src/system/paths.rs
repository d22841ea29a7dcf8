//! The one table of what a system file may hold.

use PathKind::{Text, Words, YesNo};

use crate::quantity::Measure::{Flow, Length, Power, Pressure, PressureChange, Temperature, Volume};
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
    /// The least and the most that a measured value can be, as written.
    between: Option<[&'static str; 2]>,
}

const fn entry(path: &'static str, kind: PathKind, means: &'static str) -> PathEntry {
    PathEntry { path, kind, means, between: None }
}

const fn measured(
    path: &'static str,
    measure: Measure,
    between: [&'static str; 2],
    means: &'static str,
) -> PathEntry {
    PathEntry { path, kind: PathKind::Measure(measure), means, between: Some(between) }
}

/// Everything a system file may say, gauges apart.
///
/// What a measured value can be at the very most stands as a person would write it; values outside are slips of the pen or of the unit. Common practice, and the ranges that
/// procedures ask within.
pub static PATHS: &[PathEntry] = &[
    measured("elevation", Length, ["-1500 ft", "15000 ft"], "height of the place above sea level"),
    measured("warmest", Temperature, ["-40 degF", "150 degF"], "warmest it gets where the tanks stand"),
    measured("coldest", Temperature, ["-40 degF", "150 degF"], "coldest it gets where the tanks stand"),
    measured("gap", PressureChange, ["1 psi", "10 psi"], "how far below cut-in the precharge is to be"),
    entry(
        "more_tanks",
        YesNo,
        "other pressure tanks on the same line; so it is where two or more stand below",
    ),
    entry("jar_marks", YesNo, "a jar or cone with marks, to measure settled solids"),
    measured(
        "switch.cut_in",
        Pressure,
        ["5 psi", "120 psi"],
        "pressure at which the pump starts, as the label says",
    ),
    measured(
        "switch.cut_out",
        Pressure,
        ["10 psi", "150 psi"],
        "pressure at which the pump stops, as the label says",
    ),
    entry("switch.lever", YesNo, "a low-pressure cut-off lever on the switch"),
    entry("pump.kind", Words(&["submersible", "jet", "other"]), "the kind of pump"),
    entry("pump.control", Words(&["switch", "valve", "drive"]), "what runs the pump"),
    measured("pump.flow", Flow, ["0.1 gal/min", "500 gal/min"], "what the pump brings"),
    measured("pump.power", Power, ["0.1 hp", "20 hp"], "the pump's power, as its plate says"),
    measured(
        "pump.set_pressure",
        Pressure,
        ["10 psi", "150 psi"],
        "what a constant-pressure valve or drive holds",
    ),
    measured(
        "pump.precharge",
        Pressure,
        ["5 psi", "100 psi"],
        "precharge that the maker of valve or drive asks for",
    ),
    entry("relief.present", YesNo, "a pressure relief valve"),
    measured("relief.setting", Pressure, ["30 psi", "300 psi"], "pressure at which the relief valve opens"),
    entry("house.valve", YesNo, "a valve that shuts the house off"),
    entry("house.treatment", YesNo, "a softener or filter behind the tanks"),
    entry(
        "layout.drain",
        Words(&["tank", "tee"]),
        "where the drain valve sits: between isolation valve and tank, or on the tank tee",
    ),
    entry(
        "layout.controls",
        Words(&["line", "tank"]),
        "where switch, gauge and relief valve sit: all on the pump's side of the isolation valve, or not",
    ),
    entry("layout.tank_valves", YesNo, "of several tanks: whether every one has its own isolation valve"),
    entry(
        "layout.spigot",
        Words(&["line", "house", "none"]),
        "a yard spigot: on the pump's side of the house's shutoff valve, behind it, or none",
    ),
    entry(
        "layout.check_valve",
        Words(&["well", "tee", "unknown"]),
        "where the check valve sits: in the well, or before the tank tee",
    ),
    entry("tank.name", Text, "what the owner calls the tank"),
    entry("tank.kind", Words(&["bladder", "diaphragm", "plain", "unsure"]), "the kind of tank"),
    entry("tank.plate", Text, "model, serial number and date, as its plate says"),
    entry("tank.plate_photo", Text, "where a photo of its plate lies"),
    measured("tank.volume", Volume, ["1 gal", "500 gal"], "whole volume, from the plate"),
    measured("tank.limit", Pressure, ["40 psi", "300 psi"], "highest pressure the plate allows"),
    measured("tank.height", Length, ["-100 ft", "100 ft"], "how much higher than the switch it stands"),
    measured("tank.precharge", Pressure, ["0 psi", "150 psi"], "precharge as last set"),
];

/// The paths of one table, each with its key; `""` is the top of the file.
pub(crate) fn paths_of(table: &str) -> impl Iterator<Item = (&'static PathEntry, &'static str)> {
    PATHS.iter().filter_map(move |entry| {
        let (head, key) = entry.path.split_once('.').unwrap_or(("", entry.path));
        (head == table).then_some((entry, key))
    })
}

impl PathEntry {
    /// The least and the most that a measured value can be, SI.
    pub(super) fn between(&self) -> Option<(f64, f64)> {
        let (PathKind::Measure(measure), Some([low, high])) = (self.kind, self.between) else { return None };
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
