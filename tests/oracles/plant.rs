//! The simulated well system against scipy's integration of the same equations.

use serde_json::Value;
use tankhand::physics::plant::{Leaks, Plant, PlantSite, TankSite, Until};

use super::{GALLON, PSI, data};

/// How far a time, a pressure and a volume may be off, as shares; the steps of the simulation are long.
const TIME: f64 = 0.02;
const PRESSURE: f64 = 0.01;
const WATER: f64 = 0.01;
/// What a volume may be off beside that: a four hundredth of the tank, m³.
const SOME_WATER: f64 = 4e-4;

fn near(is: f64, wanted: &Value, share: f64) {
    let expected = wanted.as_f64().unwrap();
    assert!((is - expected).abs() <= share * expected.abs() + SOME_WATER, "{is} in place of {expected}");
}

fn site() -> PlantSite {
    PlantSite { house_open: false, relief: None, ..PlantSite::default() }
}

#[test]
fn a_fill_takes_as_long_and_as_much() {
    let mut site = site();
    site.switch.cut_out = 40.0 * PSI;
    let mut plant = Plant::new(site, 1);
    // At rest at 40 psi; the nuts are turned, so that the pump starts there and stops 20 psi higher.
    plant.turn_switch(1e-9, 8.0);
    let seconds = plant.run_until(Until::PumpStops, 600.0);
    assert_eq!(seconds, Some(0.0), "the pump has not started yet");
    plant.set_drain(1e-6);
    plant.run_until(Until::PumpStarts, 600.0).unwrap();
    plant.set_drain(0.0);
    let seconds = plant.run_until(Until::PumpStops, 600.0).unwrap();
    let expected = &data("plant.json")["fill"];
    near(seconds, &expected["seconds"], TIME);
    near(plant.water(0), &expected["water"], WATER);
}

#[test]
fn a_draw_takes_as_long_and_leaves_as_much() {
    let mut plant = Plant::new(site(), 1);
    plant.set_breaker(false);
    plant.set_drain(0.12);
    let seconds = plant.run_until(Until::Falls(40.0 * PSI), 3_600.0).unwrap();
    let expected = &data("plant.json")["draw"];
    near(seconds, &expected["seconds"], TIME);
    near(plant.water(0), &expected["water"], WATER);
}

fn samples(plant: &mut Plant, name: &str) {
    let rows = data("plant.json")[name].as_array().unwrap().clone();
    assert!(rows.len() >= 3, "{name}");
    for row in rows {
        plant.advance(row["s"].as_f64().unwrap() - plant.seconds());
        near(plant.line_pressure(), &row["line"], PRESSURE);
        for (at, water) in row["water"].as_array().unwrap().iter().enumerate() {
            near(plant.water(at), water, WATER);
        }
    }
}

#[test]
fn a_leak_loses_as_much() {
    let mut site = site();
    site.leaks = Leaks { check_valve: 1.9e-8, ..Leaks::default() };
    let mut plant = Plant::new(site, 1);
    plant.set_breaker(false);
    samples(&mut plant, "leak");
}

#[test]
fn two_tanks_share_the_line_as_they_should() {
    let first = TankSite { outlet: 1e-6, ..TankSite::default() };
    let second =
        TankSite { volume: 20.0 * GALLON, precharge: 30.0 * PSI, height: 2.0, ..TankSite::default() };
    let mut site = PlantSite { tanks: vec![first, second], ..site() };
    site.switch.cut_out = 55.0 * PSI;
    let mut plant = Plant::new(site, 1);
    plant.set_breaker(false);
    plant.set_drain(0.3);
    samples(&mut plant, "two");
}
