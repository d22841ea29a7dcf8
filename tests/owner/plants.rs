//! One script at an installation with every fault: what gauges, water and air come to after each deed.

use std::fmt::Write as _;

use tankhand::owner::{DEFECTS, Household};
use tankhand::physics::plant::{Instruments, Plant, PlantSite, SwitchSite, TankSite, Until};
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
    ("spigot shut", |plant| plant.set_spigot(0.0), 7_200.0),
];

/// What is done with a second tank beside, one to replace it, and a drain that may be the tank's own.
const CHANGES: [(&str, Deed, f64); 10] = [
    ("house shut, drain open until dry", |plant| (plant.set_house_valve(false), plant.set_drain(1.0)).0, 0.0),
    ("breaker off", |plant| plant.set_breaker(false), 3_600.0),
    ("first tank taken off", |plant| plant.set_joined(0, false), 60.0),
    ("spare in its place", |plant| assert!(plant.replace_tank()), 60.0),
    ("no other spare", |plant| assert!(!plant.replace_tank()), 0.0),
    ("air to 30 psi, joined", |plant| (plant.set_air(0, 30.0 * PSI), plant.set_joined(0, true)).0, 60.0),
    ("joined again", |plant| plant.set_joined(0, true), 0.0),
    ("second tank's valve shut", |plant| plant.set_tank_valve(1, false), 0.0),
    ("filled", |plant| (plant.set_drain(0.0), plant.set_breaker(true)).0, 600.0),
    ("its own valve shut", |plant| plant.set_tank_valve(0, false), 60.0),
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

/// When each thing that can be waited for comes about, seconds; nothing where it does not.
fn waits(plant: &mut Plant) -> String {
    let mut wait = |until| plant.run_until(until, 1_800.0).map_or("never".to_string(), shown);
    let all = [
        Until::Falls(50.0 * PSI),
        Until::PumpStarts,
        Until::Rises(52.0 * PSI),
        Until::PumpStops,
        Until::RunsDry,
    ];
    all.map(&mut wait).join(" ")
}

#[test]
fn tanks_that_come_and_go_show_as_they_did() {
    let mut text = String::new();
    for drain_at_tank in [false, true] {
        let second = TankSite { volume: 20.0 * GALLON, height: 2.0, grit: 1e-3, ..TankSite::default() };
        let tanks = vec![TankSite::default(), second];
        let spare = Some(TankSite { volume: 32.0 * GALLON, ..TankSite::default() });
        let site = PlantSite { tanks, spare, drain_at_tank, ambient_rate: 1e-4, ..PlantSite::default() };
        let mut plant = Plant::new(site, 3);
        plant.set_drain(0.2);
        writeln!(text, "drain at the tank: {drain_at_tank}\n  waits {}", waits(&mut plant)).unwrap();
        for (name, deed, seconds) in CHANGES {
            deed(&mut plant);
            plant.advance(seconds);
            let states = [0, 1].map(|tank| (plant.is_joined(tank), plant.tank_valve_open(tank)));
            writeln!(text, "  {name:<34} {} {states:?}", row(&plant)).unwrap();
        }
        plant.set_drain(1.0);
        plant.set_breaker(false);
        writeln!(text, "  dry {}", plant.run_until(Until::RunsDry, 7_200.0).map_or("never".into(), shown))
            .unwrap();
    }
    golden::holds("tests/owner/tanks.txt", &text);
}

/// What stands where nothing else is said, in the units of the trade.
#[test]
fn an_installation_of_which_nothing_is_said_is_a_common_one() {
    let psi = |pa: f64| (pa / PSI * 1e6).round() / 1e6;
    let PlantSite { elevation, ambient, ambient_rate, tanks, pump, switch, house_open, relief, .. } =
        PlantSite::default();
    assert_eq!((elevation, ambient, ambient_rate, house_open), (0.0, 288.15, 0.0, true));
    assert_eq!((psi(pump.shutoff), psi(pump.free_flow * 60.0 / GALLON * PSI)), (85.0, 15.5));
    assert_eq!(relief.map(psi), Some(75.0));
    let SwitchSite { cut_in, cut_out, scatter, lag, surge, range_turn, differential_turn, .. } = switch;
    assert_eq!([cut_in, cut_out, range_turn, differential_turn].map(psi), [40.0, 60.0, 2.5, 2.5]);
    assert_eq!([scatter, lag, surge], [0.0; 3]);
    let [tank] = tanks.as_slice() else { panic!("{tanks:?}") };
    assert_eq!((tank.volume / GALLON, psi(tank.precharge), psi(tank.limit)), (44.0, 38.0, 100.0));
    let TankSite { height, column, trapped, most_water, outlet, air_leak, grit, .. } = *tank;
    assert_eq!([height, column, trapped, most_water], [0.0, 1.0, 0.0, f64::INFINITY]);
    assert_eq!([outlet, air_leak, grit], [1e-5, 0.0, 0.0]);
    let Instruments { line, second, air, bucket, thermometer, watch } = Instruments::default();
    assert_eq!([line, second, air].map(|it| psi(it.mark)), [1.0, 1.0, 0.5]);
    assert_eq!([bucket, thermometer, watch].map(|it| it.mark), [0.5e-3, 1.0, 1.0]);
}
