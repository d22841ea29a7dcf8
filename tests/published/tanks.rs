//! Several tanks, and water by weight.

use tankhand::physics::{TankAtHeight, several_tanks};

use super::{GALLON, PSI, close};

fn tank(gallons: f64, precharge: f64) -> TankAtHeight<f64> {
    TankAtHeight { volume: gallons * GALLON, precharge: precharge * PSI, above: 0.0 }
}

/// Computed: 44 and 20 gal at 40/60: 11.350 + 5.159 = 16.510 gal.
#[test]
fn drawdowns_of_parallel_tanks_add() {
    let both = several_tanks(&[tank(44.0, 38.0), tank(20.0, 38.0)], 40.0 * PSI, 60.0 * PSI, 0.0).unwrap();
    close(both.each[0] / GALLON, 11.350, 0.001, "44 gal");
    close(both.each[1] / GALLON, 5.159, 0.001, "20 gal");
    close(both.total / GALLON, 16.510, 0.001, "both");
}

/// Computed: of two like tanks at 30/50 one has lost 10 psi; together they give 12 % less.
#[test]
fn a_bad_tank_hides_behind_a_good_one() {
    let total = |one: f64, other: f64| {
        let tanks = [tank(44.0, one), tank(44.0, other)];
        several_tanks(&tanks, 30.0 * PSI, 50.0 * PSI, 0.0).unwrap().total
    };
    close(1.0 - total(28.0, 18.0) / total(28.0, 28.0), 0.12, 0.005, "share lost");
}
