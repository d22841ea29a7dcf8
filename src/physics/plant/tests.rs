//! The plant against the formulas, and what must be conserved.

use super::{Bladder, Plant, Site, TankSite, Until};
use crate::physics::drawdown;
use crate::quantity::{GALLON, PSI};

fn site(tank: TankSite) -> Site {
    Site { house_open: false, tanks: vec![tank], ..Site::default() }
}

#[test]
fn a_slow_draw_gives_the_drawdown() {
    let mut plant = Plant::new(site(TankSite::default()), 1);
    plant.set_breaker(false);
    plant.set_drain(0.02);
    plant.run_until(Until::Falls(40.0 * PSI), 36_000.0).unwrap();
    let v = 44.0 * GALLON;
    let expected = drawdown(v, 38.0 * PSI, 40.0 * PSI, 60.0 * PSI, 0.0).unwrap();
    let share = plant.totals().drained / expected;
    assert!((share - 1.0).abs() < 0.02, "{share}");
}

#[test]
fn an_empty_tank_shows_its_precharge() {
    let mut plant = Plant::new(site(TankSite::default()), 1);
    plant.set_breaker(false);
    plant.set_drain(1.0);
    assert!(plant.run_until(Until::RunsDry, 3_600.0).is_some());
    plant.advance(1_200.0);
    assert!((plant.tank_pressure(0) / PSI - 38.0).abs() < 0.01, "{}", plant.tank_pressure(0) / PSI);
    assert_eq!(plant.press_pin(0), super::PinResult::Air);
}

#[test]
fn torn_and_open_keeps_no_air() {
    let tank = TankSite { bladder: Bladder::Torn { seals: false, wet_valve: false }, ..TankSite::default() };
    let mut plant = Plant::new(site(tank), 1);
    plant.set_breaker(false);
    plant.set_drain(1.0);
    plant.advance(1_800.0);
    assert!(plant.tank_pressure(0) < 0.1 * PSI);
}
