//! The simulated well gives what the published drawdowns say, drawn slowly.

use tankhand::physics::plant::{Plant, PlantSite, SwitchSite, TankSite, Until};

use super::air::GALLONS as DRAWDOWNS;
use super::{GALLON, PSI, close};

/// Water from a tank of so many gallons, 20 psi down to the cut-in, the precharge 2 psi below it.
fn gallons(volume: f64, cut_in: f64) -> f64 {
    let tank = TankSite {
        volume: volume * GALLON,
        precharge: (cut_in - 2.0) * PSI,
        // The tables know no water column.
        column: 0.0,
        ..TankSite::default()
    };
    let switch = SwitchSite { cut_in: cut_in * PSI, cut_out: (cut_in + 20.0) * PSI, ..SwitchSite::default() };
    let mut plant =
        Plant::new(PlantSite { tanks: vec![tank], switch, house_open: false, ..PlantSite::default() }, 1);
    plant.set_breaker(false);
    plant.set_drain(0.002);
    plant.run_until(Until::Falls(cut_in * PSI), 1e6).unwrap();
    plant.totals().drained / GALLON
}

#[test]
fn a_slow_draw_gives_the_published_drawdown() {
    for &(volume, expected) in DRAWDOWNS {
        for (cut_in, expected) in [20.0, 30.0, 40.0].into_iter().zip(expected) {
            close(gallons(volume, cut_in), expected, 0.004 * expected, &format!("{volume} gal at {cut_in}"));
        }
    }
}
