//! The readings of demonstrations, held against a simulated installation with what is wrong there: each lies
//! within what gauges, buckets and hands make of the truth.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use serde::Deserialize;
use tankhand::owner::Household;
use tankhand::physics::plant::{Bladder, Plant, TankSite, Until};
use tankhand::quantity::{GALLON, Measure, PSI, unit};

use crate::golden::in_project;

/// `plant.toml` beside a demonstration: the installation at one stage or two of it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Scenario {
    stage: Vec<Stage>,
}

/// An installation at a stage of a demonstration. Quantities are written with their units.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Stage {
    /// `found` or `left`.
    phase: String,
    /// Where the switch starts and stops the pump.
    switch: [String; 2],
    /// How high the place is.
    elevation: String,
    /// What the pump brings half way between the two.
    flow: String,
    /// Those on the line.
    tank: Vec<Tank>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Tank {
    /// The whole volume.
    volume: String,
    precharge: String,
    /// Which share of the tank is water behind its torn bladder; none where that is whole.
    behind: Option<f64>,
    /// Whether it is not joined yet.
    #[serde(default)]
    loose: bool,
}

/// A quantity as it is written, SI.
fn si(measure: Measure, text: &str) -> f64 {
    let (number, symbol) = text.split_once(' ').unwrap_or_else(|| panic!("`{text}` has no unit"));
    unit(symbol).unwrap_or_else(|| panic!("no unit `{symbol}`")).to_si(measure, number.parse().unwrap())
}

/// What is read, with how far it may lie from the truth: a share of it, and so much, SI.
const READ: [(&str, f64, f64); 5] = [
    ("cut_in", 0.0, 2.0 * PSI),
    ("cut_out", 0.0, 2.0 * PSI),
    ("precharge", 0.0, 1.5 * PSI),
    ("drawdown", 0.1, 0.3 * GALLON),
    ("run_time", 0.2, 3.0),
];

/// How far a drain is opened to draw water slowly, and how long that may take, s.
const SLOWLY: f64 = 0.01;
const DAY: f64 = 86_400.0;

impl Tank {
    fn site(&self, usual: &TankSite) -> TankSite {
        let volume = si(Measure::Volume, &self.volume);
        let mut site =
            TankSite { volume, precharge: si(Measure::Pressure, &self.precharge), ..usual.clone() };
        site.joined = !self.loose;
        if let Some(share) = self.behind {
            site.bladder = Bladder::Torn { seals: false, wet_valve: true };
            site.trapped = share * volume;
        }
        site
    }
}

impl Stage {
    fn switch(&self) -> [f64; 2] {
        [0, 1].map(|at| si(Measure::Pressure, &self.switch[at]))
    }

    fn plant(&self) -> Plant {
        let mut site = Household::default().site;
        let [cut_in, cut_out] = self.switch();
        (site.switch.cut_in, site.switch.cut_out) = (cut_in, cut_out);
        site.elevation = si(Measure::Length, &self.elevation);
        site.pump.shutoff = cut_out + 30.0 * PSI;
        site.relief = Some(cut_out + 15.0 * PSI);
        let half_way = 0.5 * (cut_in + cut_out) / site.pump.shutoff;
        site.pump.free_flow = si(Measure::Flow, &self.flow) / (1.0 - half_way).sqrt();
        site.tanks = self.tank.iter().map(|tank| tank.site(&site.tanks[0])).collect();
        Plant::new(site, 1)
    }

    /// The truth of each reading, SI.
    fn truth(&self) -> BTreeMap<&'static str, f64> {
        let mut plant = self.plant();
        let mut truth = BTreeMap::new();
        // Where there are several, a reading is of one of them.
        if let [tank] = &self.tank[..] {
            truth.insert("precharge", si(Measure::Pressure, &tank.precharge));
        }
        plant.run_until(Until::PumpStops, 3_600.0).unwrap();
        plant.set_drain(0.12);
        plant.run_until(Until::PumpStarts, 3_600.0).unwrap();
        truth.insert("cut_in", plant.line_pressure());
        plant.set_drain(0.0);
        let begin = plant.seconds();
        plant.run_until(Until::PumpStops, 3_600.0).unwrap();
        truth.insert("run_time", plant.seconds() - begin);
        truth.insert("cut_out", plant.line_pressure());
        truth
    }

    /// The water from a pressure down to cut-in, m³, drawn so slowly that the air stays as warm as it is.
    fn drawdown(&self, from: f64) -> f64 {
        let mut plant = self.plant();
        plant.set_breaker(false);
        plant.set_drain(SLOWLY);
        plant.run_until(Until::Falls(from), DAY);
        let before = plant.totals().drained;
        plant.run_until(Until::Falls(self.switch()[0]), DAY);
        plant.totals().drained - before
    }
}

/// What stands behind a key in a line of entries, up to a comma or the end of a quotation.
fn of_key<'l>(line: &'l str, key: &str) -> Option<&'l str> {
    let (_, rest) = line.split_once(&format!(" {key} = "))?;
    let rest = rest.trim_start_matches('"');
    rest.split([',', '"']).next()
}

/// The newest reading of an observable at a stage of a demonstration, SI.
fn read(entries: &str, observable: &str, phase: &str) -> Option<f64> {
    let line = entries.lines().rev().find(|line| {
        line.split(' ').nth(1) == Some("reading")
            && of_key(line, "observes") == Some(observable)
            && of_key(line, "phase") == Some(phase)
    })?;
    let measure = match observable {
        "drawdown" => Measure::Volume,
        "run_time" => Measure::Duration,
        _ => Measure::Pressure,
    };
    Some(unit(of_key(line, "unit")?)?.to_si(measure, of_key(line, "value")?.parse().ok()?))
}

#[test]
fn readings_of_demonstrations_are_those_of_an_installation() {
    let (mut wrong, mut compared, mut stages) = (String::new(), 0, 0);
    for folder in fs::read_dir(in_project("transcripts-demo")).unwrap() {
        let folder = folder.unwrap().path();
        let Ok(text) = fs::read_to_string(folder.join("plant.toml")) else { continue };
        let demo = folder.file_name().map(Path::new).unwrap().display();
        let scenario: Scenario = toml::from_str(&text).unwrap_or_else(|error| panic!("{demo}: {error}"));
        let entries = fs::read_to_string(folder.join("entries.txt")).unwrap();
        for stage in &scenario.stage {
            stages += 1;
            let truth = stage.truth();
            for (observable, share, more) in READ {
                let Some(told) = read(&entries, observable, &stage.phase) else { continue };
                let truth = match observable {
                    "drawdown" => {
                        let rested = read(&entries, "rested_pressure", &stage.phase);
                        stage.drawdown(rested.unwrap_or(stage.switch()[1]))
                    }
                    _ => match truth.get(observable) {
                        Some(truth) => *truth,
                        None => continue,
                    },
                };
                compared += 1;
                if (told - truth).abs() > share * truth + more {
                    let phase = &stage.phase;
                    writeln!(wrong, "{demo}, {phase}: {observable} {told:.4e}, truly {truth:.4e}").unwrap();
                }
            }
        }
    }
    assert_eq!(wrong, "");
    assert!(stages > 25 && compared > 60, "{compared} readings of {stages} stages");
}
