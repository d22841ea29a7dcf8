//! The plant against the formulas, and what must be conserved.

use proptest::prelude::*;

use super::{Bladder, LINE_COMPLIANCE, Leaks, PinResult, Plant, PlantSite, PressureValve, TankSite, Until};
use crate::physics::{drawdown, water_held};
use crate::quantity::{GALLON, GPM, PSI};

/// One tank, whose water stands nowhere higher than the switch, and a house that is shut.
fn site(tank: TankSite) -> PlantSite {
    PlantSite { house_open: false, tanks: vec![TankSite { column: 0.0, ..tank }], ..PlantSite::default() }
}

fn drained(tank: TankSite) -> Plant {
    let mut plant = Plant::new(site(tank), 1);
    plant.set_breaker(false);
    plant.set_drain(1.0);
    plant.advance(7_200.0);
    plant
}

/// What may be done to a plant.
#[derive(Clone, Debug)]
enum Deed {
    Drain(f64),
    Breaker(bool),
    TankValve(usize, bool),
    House(bool),
    Wait(f64),
}

fn any_deed() -> impl Strategy<Value = Deed> {
    prop_oneof![
        (0.0f64..1.0).prop_map(Deed::Drain),
        any::<bool>().prop_map(Deed::Breaker),
        (0usize..2, any::<bool>()).prop_map(|(tank, open)| Deed::TankValve(tank, open)),
        any::<bool>().prop_map(Deed::House),
        (0.1f64..2_000.0).prop_map(Deed::Wait),
    ]
}

fn do_it(plant: &mut Plant, deed: &Deed) {
    match *deed {
        Deed::Drain(opening) => plant.set_drain(opening),
        Deed::Breaker(on) => plant.set_breaker(on),
        Deed::TankValve(tank, open) => plant.set_tank_valve(tank, open),
        Deed::House(open) => plant.set_house_valve(open),
        Deed::Wait(seconds) => plant.advance(seconds),
    }
}

/// All water that is there, m³.
fn stored(plant: &Plant) -> f64 {
    (0..2).map(|tank| plant.water(tank)).sum::<f64>() + LINE_COMPLIANCE * plant.line_pressure()
}

/// Two tanks and a leak at three places.
fn two_tanks(precharges: [f64; 2], leak: f64) -> Plant {
    let tank =
        |psi: f64, gal: f64| TankSite { precharge: psi * PSI, volume: gal * GALLON, ..TankSite::default() };
    let tanks = vec![tank(precharges[0], 44.0), tank(precharges[1], 20.0)];
    let leaks = Leaks { check_valve: leak, house: leak, relief: leak, demand: 0.0 };
    Plant::new(PlantSite { tanks, leaks, ..PlantSite::default() }, 1)
}

/// What is missing of the water that was there, after all that came and went, m³.
fn unaccounted(water: f64, plant: &Plant) -> f64 {
    let passed = plant.totals();
    water + passed.pumped - passed.drained - passed.lost - stored(plant)
}

/// A trickle came into an empty tank, and was dropped step by step.
#[test]
fn a_trickle_into_an_empty_tank_is_not_lost() {
    let mut plant = two_tanks([50.24, 5.0], 2.626e-8);
    let water = stored(&plant);
    plant.set_drain(0.708);
    plant.set_breaker(false);
    plant.set_house_valve(false);
    plant.advance(1_841.0);
    plant.set_drain(0.896);
    plant.advance(919.0);
    assert!(unaccounted(water, &plant).abs() < 1e-7, "{}", unaccounted(water, &plant));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn water_and_air_are_conserved(
        deeds in proptest::collection::vec(any_deed(), 1..12),
        precharges in [5.0f64..60.0, 5.0f64..60.0],
        leak in 0.0f64..5e-8,
    ) {
        let mut plant = two_tanks(precharges, leak);
        let air = |plant: &Plant| plant.tanks.iter().map(|tank| tank.air).collect::<Vec<f64>>();
        let (water, air_before) = (stored(&plant), air(&plant));
        for deed in &deeds {
            do_it(&mut plant, deed);
        }
        let balance = unaccounted(water, &plant);
        prop_assert!(balance.abs() < 1e-7, "{balance} of {:?}", plant.totals());
        prop_assert_eq!(air_before, air(&plant));
    }

    #[test]
    fn at_rest_a_tank_holds_what_the_formula_says(gal in 5.0f64..120.0, psi in 10.0f64..58.0) {
        let tank = TankSite { volume: gal * GALLON, precharge: psi * PSI, ..TankSite::default() };
        let plant = Plant::new(site(tank), 1);
        let held = water_held(gal * GALLON, psi * PSI, 60.0 * PSI, 0.0).unwrap();
        prop_assert!((plant.water(0) - held).abs() < 1e-6 * gal * GALLON, "{} in place of {held}", plant.water(0));
    }

    #[test]
    fn a_slow_draw_gives_the_drawdown(psi in 20.0f64..38.0) {
        let mut plant = Plant::new(site(TankSite { precharge: psi * PSI, ..TankSite::default() }), 1);
        plant.set_breaker(false);
        plant.set_drain(0.002);
        plant.run_until(Until::Falls(40.0 * PSI), 1e6).unwrap();
        let expected = drawdown(44.0 * GALLON, psi * PSI, 40.0 * PSI, 60.0 * PSI, 0.0).unwrap();
        prop_assert!((plant.totals().drained / expected - 1.0).abs() < 0.003, "{:?} of {expected}", plant.totals());
    }
}

#[test]
fn an_empty_tank_shows_its_precharge() {
    let mut plant = drained(TankSite::default());
    assert!((plant.tank_pressure(0) / PSI - 38.0).abs() < 0.01, "{}", plant.tank_pressure(0) / PSI);
    assert_eq!((plant.water(0), plant.press_pin(0)), (0.0, PinResult::Air));
}

#[test]
fn a_torn_bladder_keeps_no_air_or_gives_water() {
    let torn =
        |wet_valve| TankSite { bladder: Bladder::Torn { seals: false, wet_valve }, ..TankSite::default() };
    let mut plant = drained(torn(false));
    assert!(plant.tank_pressure(0) < 0.1 * PSI);
    assert_eq!(plant.press_pin(0), PinResult::Nothing);
    assert_eq!(drained(torn(true)).press_pin(0), PinResult::Water);
}

#[test]
fn a_tank_behind_its_shut_valve_keeps_the_pressure_of_the_line() {
    let mut plant = drained(TankSite { valve_open: false, ..TankSite::default() });
    assert!(plant.line_pressure() < 0.1 * PSI);
    assert!(plant.tank_pressure(0) > 50.0 * PSI);
    assert_eq!(plant.press_pin(0), PinResult::Air);
}

#[test]
fn a_pump_below_its_cut_out_never_stops() {
    let mut site = site(TankSite::default());
    site.pump.shutoff = 57.0 * PSI;
    let mut plant = Plant::new(site, 1);
    plant.set_drain(0.1);
    plant.run_until(Until::PumpStarts, 36_000.0).unwrap();
    plant.set_drain(0.0);
    assert_eq!(plant.run_until(Until::PumpStops, 36_000.0), None);
    assert!((plant.line_pressure() / PSI - 57.0).abs() < 0.5, "{}", plant.line_pressure() / PSI);
}

#[test]
fn a_jet_pump_without_its_water_turns_and_brings_none_until_it_is_filled() {
    let mut site = site(TankSite::default());
    site.pump.primed = false;
    let mut plant = Plant::new(site, 1);
    plant.set_drain(0.1);
    plant.run_until(Until::PumpStarts, 3_600.0).unwrap();
    plant.advance(600.0);
    plant.set_drain(0.0);
    assert!(plant.pump_runs() && plant.line_pressure() < PSI && plant.totals().pumped == 0.0);
    plant.prime_pump();
    plant.run_until(Until::PumpStops, 3_600.0).unwrap();
}

#[test]
fn a_constant_pressure_valve_holds_its_pressure_while_water_is_drawn_and_fills_slowly_after() {
    let mut site = site(TankSite::default());
    let least = GPM;
    site.pump.valve = Some(PressureValve { holds: 50.0 * PSI, least });
    let mut plant = Plant::new(site, 1);
    plant.set_drain(0.3);
    plant.run_until(Until::PumpStarts, 3_600.0).unwrap();
    plant.advance(1_200.0);
    assert!((plant.line_pressure() / PSI - 51.0).abs() < 1.0, "{}", plant.line_pressure() / PSI);
    plant.set_drain(0.0);
    let before = plant.totals().pumped;
    let filled = plant.run_until(Until::PumpStops, 3_600.0).unwrap();
    assert!((plant.totals().pumped - before) / filled < 1.4 * least, "{filled} s");
}

#[test]
fn a_lever_keeps_the_pump_off_an_empty_line_until_it_is_held() {
    let mut site = site(TankSite::default());
    site.switch.lever = Some(10.0 * PSI);
    let mut plant = Plant::new(site, 1);
    plant.set_breaker(false);
    plant.set_drain(1.0);
    plant.advance(3_600.0);
    plant.set_drain(0.0);
    plant.set_breaker(true);
    plant.advance(60.0);
    assert!(!plant.pump_runs());
    plant.hold_lever(60.0);
    assert!(plant.pump_runs());
}

/// Starts within a minute of a pump whose only tank is shut off, with a spigot of such a conductance.
fn starts_against(spigot: f64) -> usize {
    let mut plant = Plant::new(PlantSite { house_open: false, ..PlantSite::default() }, 1);
    plant.set_tank_valve(0, false);
    plant.set_spigot(spigot);
    let mut starts = 0;
    while plant.seconds() < 60.0 {
        let Some(_) = plant.run_until(Until::PumpStarts, 60.0) else { break };
        starts += 1;
        if plant.run_until(Until::PumpStops, 60.0).is_none() {
            break;
        }
    }
    starts
}

#[test]
fn only_a_running_spigot_keeps_a_pump_from_rapid_starts_while_its_tank_is_shut_off() {
    assert!(starts_against(1.1e-7) > 20, "{}", starts_against(1.1e-7));
    assert_eq!(starts_against(9e-7), 1);
}

#[test]
fn a_tank_with_its_drain_behind_its_own_valve_runs_dry_while_the_line_keeps_its_pressure() {
    let mut plant =
        Plant::new(PlantSite { drain_at_tank: true, house_open: false, ..PlantSite::default() }, 1);
    plant.set_tank_valve(0, false);
    plant.set_drain(1.0);
    plant.run_until(Until::RunsDry, 3600.0).unwrap();
    assert!(plant.water(0) < 1e-4 && plant.line_pressure() > 50.0 * PSI);
    plant.set_drain(0.0);
    plant.crack_tank_valve(0, 1e-8, 5.0);
    assert!(plant.water(0) > 0.0 && !plant.tank_valve_open(0));
}
