//! One script at an installation with every fault: what gauges, water and air come to after each deed.

use std::fmt::Write as _;

use tankhand::owner::{DEFECTS, Household};
use tankhand::physics::plant::Plant;
use tankhand::quantity::{GALLON, PSI};

use crate::golden;

type Deed = fn(&mut Plant);

/// What is done, and for how many seconds nothing more; as in a flush, then as a switch is set.
const SCRIPT: [(&str, Deed, f64); 14] = [
    ("nothing", |_| {}, 600.0),
    ("drain a tenth open", |plant| plant.set_drain(0.1), 420.0),
    ("drain shut", |plant| plant.set_drain(0.0), 600.0),
    ("breaker off, house shut", |plant| (plant.set_breaker(false), plant.set_house_valve(false)).0, 3_600.0),
    ("drain wide open", |plant| plant.set_drain(1.0), 2_400.0),
    ("air valve pressed", |plant| (plant.press_pin(0), ()).1, 300.0),
    ("air to 33 psi", |plant| plant.set_air(0, 33.0 * PSI), 300.0),
    ("tank valve a crack", |plant| plant.crack_tank_valve(0, 1e-6, 30.0), 60.0),
    ("drain shut, breaker on", |plant| (plant.set_drain(0.0), plant.set_breaker(true)).0, 40.0),
    ("lever held", |plant| plant.hold_lever(20.0), 900.0),
    ("range up a turn, differential half", |plant| plant.turn_switch(1.0, 0.5), 300.0),
    ("spigot open", |plant| plant.set_spigot(2e-6), 500.0),
    ("tank valve shut", |plant| plant.set_tank_valve(0, false), 20.0),
    ("new core, spigot shut", |plant| (plant.change_core(0), plant.set_spigot(0.0)).0, 7_200.0),
];

/// Four digits are the same on every machine.
fn shown(value: f64) -> String {
    if value.abs() < 1e-9 { "0".to_string() } else { format!("{value:.3e}") }
}

fn row(plant: &Plant) -> String {
    let (line, tank) = (plant.line_pressure() / PSI, plant.tank_pressure(0) / PSI);
    let passed = plant.totals();
    let all = [
        line,
        tank,
        plant.precharge(0) / PSI,
        plant.water(0) / GALLON,
        plant.sediment(0) / GALLON,
        plant.jar(),
        plant.fall_rate() / PSI,
        plant.ambient(),
        passed.pumped / GALLON,
        passed.drained / GALLON,
        passed.lost / GALLON,
    ];
    let runs = if plant.pump_runs() { " runs" } else { "" };
    all.map(shown).join(" ") + runs
}

#[test]
fn every_fault_shows_as_it_did() {
    let mut text = String::from(
        "# line tank precharge, psi; water sediment, gal; jar; fall, psi/s; K; pumped drained lost, gal\n",
    );
    let faults = || std::iter::once(None).chain(DEFECTS.iter().map(Some));
    for (seed, fault) in (1..).zip(faults()) {
        let mut home = Household::at_random(seed % 7);
        if let Some(fault) = fault {
            fault.apply(&mut home);
        }
        let mut plant = Plant::new(home.site, seed);
        writeln!(text, "\n{}", fault.map_or("none", |fault| fault.name)).unwrap();
        for (name, deed, seconds) in SCRIPT {
            deed(&mut plant);
            plant.advance(seconds);
            writeln!(text, "  {name:<34} {}", row(&plant)).unwrap();
        }
    }
    golden::holds("tests/owner/plants.txt", &text);
}
