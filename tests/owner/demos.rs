//! The readings of demonstrations, held against a simulated installation with what is wrong there: each lies
//! within what gauges, buckets and hands make of the truth.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use tankhand::owner::Household;
use tankhand::physics::plant::{Bladder, Plant, Until};
use tankhand::quantity::{GALLON, Measure, PSI, unit};

use crate::golden::in_project;

/// An installation at a stage of a demonstration.
struct Scenario {
    demo: &'static str,
    /// `found` or `left`.
    phase: &'static str,
    /// The tank's whole volume, gal.
    volume: f64,
    /// Where the switch starts and stops the pump, psi.
    switch: [f64; 2],
    /// How high the place is, m.
    elevation: f64,
    /// The precharge, psi.
    precharge: f64,
    /// What the pump brings half way between the two, gal/min.
    flow: f64,
    /// Which share of the tank is water behind its torn bladder; none where that is whole.
    torn: Option<f64>,
}

const fn scenario(
    (demo, phase): (&'static str, &'static str),
    (volume, switch, elevation): (f64, [f64; 2], f64),
    (precharge, flow): (f64, f64),
    torn: Option<f64>,
) -> Scenario {
    Scenario { demo, phase, volume, switch, elevation, precharge, flow, torn }
}

const SCENARIOS: &[Scenario] = &[
    scenario(("gritty-tank", "found"), (44.0, [37.5, 58.0], 189.0), (27.3, 8.0), None),
    scenario(("gritty-tank", "left"), (44.0, [37.5, 58.0], 189.0), (32.5, 7.5), None),
    scenario(("waterlogged-tank", "found"), (20.0, [29.0, 50.0], 46.0), (0.0, 8.0), Some(0.75)),
    scenario(("hill-cottage", "found"), (32.0, [29.5, 53.0], 274.0), (26.5, 7.5), None),
    scenario(("hill-cottage", "left"), (32.0, [40.0, 60.0], 274.0), (35.5, 5.8), None),
    scenario(("jumping-needle", "found"), (44.0, [38.5, 58.0], 189.0), (21.0, 7.5), None),
    scenario(("yard-spigot", "left"), (44.0, [38.5, 58.0], 189.0), (34.0, 7.5), None),
    scenario(("handed-over", "found"), (32.0, [38.5, 58.0], 335.0), (36.0, 7.5), None),
    scenario(("left-as-shipped", "found"), (32.0, [29.5, 50.0], 213.0), (38.0, 12.0), None),
    scenario(("larch-street", "left"), (32.0, [29.5, 50.0], 335.0), (27.0, 7.5), None),
    scenario(("clover-rise", "left"), (44.0, [39.3, 59.0], 335.0), (36.0, 9.0), None),
    scenario(("night-pump", "found"), (62.0, [40.0, 60.0], 122.0), (37.0, 8.0), None),
    scenario(("mountain-hut", "found"), (21.1, [23.2, 43.5], 1800.0), (30.5, 5.5), None),
    scenario(("mountain-hut", "left"), (21.1, [23.2, 43.5], 1800.0), (18.3, 5.0), None),
    scenario(("weak-pump", "found"), (26.4, [29.0, 49.5], 320.0), (26.1, 8.0), None),
    scenario(("quick-pump", "found"), (13.2, [28.0, 50.8], 150.0), (0.0, 3.0), Some(0.9)),
    scenario(("handed-over", "left"), (32.0, [38.5, 58.0], 335.0), (35.5, 7.5), None),
    scenario(("night-pump", "left"), (62.0, [40.0, 60.0], 122.0), (36.0, 8.0), None),
    scenario(("lake-cabin-spring", "left"), (20.0, [30.0, 50.0], 335.0), (24.7, 6.3), None),
    scenario(("fading-shower", "found"), (20.0, [29.0, 50.0], 46.0), (27.0, 9.3), None),
    scenario(("over-set", "found"), (32.0, [58.5, 82.0], 335.0), (56.0, 6.5), None),
    scenario(("low-again", "found"), (32.0, [29.3, 50.0], 46.0), (25.2, 7.0), None),
    scenario(("spring-check", "found"), (44.0, [38.3, 58.0], 189.0), (33.5, 7.5), None),
    // Tanks that work together are one of their whole volume, with the mean of their precharges by volume.
    scenario(("second-tank", "left"), (88.0, [39.7, 60.0], 91.0), (35.8, 10.5), None),
    scenario(("two-tanks-spring", "left"), (64.0, [39.5, 60.0], 91.0), (35.2, 7.5), None),
];

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

impl Scenario {
    fn plant(&self) -> Plant {
        let mut home = Household::default();
        let [cut_in, cut_out] = self.switch.map(|psi| psi * PSI);
        (home.site.switch.cut_in, home.site.switch.cut_out) = (cut_in, cut_out);
        home.site.elevation = self.elevation;
        home.site.pump.shutoff = cut_out + 30.0 * PSI;
        home.site.relief = Some(cut_out + 15.0 * PSI);
        let half_way = 0.5 * (cut_in + cut_out) / home.site.pump.shutoff;
        home.site.pump.free_flow = self.flow * GALLON / 60.0 / (1.0 - half_way).sqrt();
        let tank = &mut home.site.tanks[0];
        (tank.volume, tank.precharge) = (self.volume * GALLON, self.precharge * PSI);
        if let Some(share) = self.torn {
            tank.bladder = Bladder::Torn { seals: false, wet_valve: true };
            tank.trapped = share * tank.volume;
        }
        Plant::new(home.site, 1)
    }

    /// The truth of each reading, SI.
    fn truth(&self) -> BTreeMap<&'static str, f64> {
        let mut plant = self.plant();
        let mut truth = BTreeMap::from([("precharge", self.precharge * PSI)]);
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
        plant.run_until(Until::Falls(self.switch[0] * PSI), DAY);
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
    let (mut wrong, mut compared) = (String::new(), 0);
    for scenario in SCENARIOS {
        let path = in_project(&format!("transcripts-demo/{}/entries.txt", scenario.demo));
        let entries = std::fs::read_to_string(path).unwrap();
        let truth = scenario.truth();
        for (observable, share, more) in READ {
            let Some(told) = read(&entries, observable, scenario.phase) else { continue };
            compared += 1;
            let rested = read(&entries, "rested_pressure", scenario.phase);
            let rested = rested.unwrap_or(scenario.switch[1] * PSI);
            let truth = truth.get(observable).copied().unwrap_or_else(|| scenario.drawdown(rested));
            if (told - truth).abs() > share * truth + more {
                let (demo, phase) = (scenario.demo, scenario.phase);
                writeln!(wrong, "{demo}, {phase}: {observable} {told:.4e}, truly {truth:.4e}").unwrap();
            }
        }
    }
    assert_eq!(wrong, "");
    assert!(compared > 50, "{compared}");
}
