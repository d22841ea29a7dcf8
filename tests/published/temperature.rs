//! The charge against temperature.

use tankhand::physics::{air_temperature_after, precharge_at};

use super::{PSI, celsius, close, fahrenheit};

const COLUMNS: [f64; 6] = [-10.0, 0.0, 5.0, 10.0, 30.0, 40.0];

/// Charge set at 20 °C in psi; by column: real air (CoolProp 8.0.0, constant density), ideal.
const SET_AT_20: &[(f64, [(f64, f64); 6])] = &[
    (
        18.0,
        [
            (14.635, 14.654),
            (15.757, 15.769),
            (16.318, 16.327),
            (16.878, 16.885),
            (19.121, 19.115),
            (20.243, 20.231),
        ],
    ),
    (
        28.0,
        [
            (23.598, 23.631),
            (25.066, 25.087),
            (25.799, 25.815),
            (26.533, 26.544),
            (29.467, 29.456),
            (30.934, 30.913),
        ],
    ),
    (
        38.0,
        [
            (32.558, 32.607),
            (34.372, 34.405),
            (35.279, 35.304),
            (36.186, 36.202),
            (39.814, 39.798),
            (41.627, 41.595),
        ],
    ),
    (
        48.0,
        [
            (41.514, 41.584),
            (43.677, 43.723),
            (44.758, 44.792),
            (45.838, 45.861),
            (50.161, 50.139),
            (52.322, 52.277),
        ],
    ),
];

/// Law of Gay-Lussac, worked outside the project; and real air, which differs by 0.07 psi at
/// the most over these 50 K.
#[test]
fn charge_by_temperature() {
    for &(precharge, row) in SET_AT_20 {
        for (degrees, (real, ideal)) in COLUMNS.into_iter().zip(row) {
            let found = precharge_at(precharge * PSI, celsius(20.0), celsius(degrees), 0.0).unwrap() / PSI;
            let what = format!("{precharge} psi at {degrees} °C");
            close(found, ideal, 0.001, &what);
            close(found, real, 0.071, &what);
        }
    }
    let found = precharge_at(38.0 * PSI, celsius(20.0), celsius(5.0), 0.0).unwrap() / PSI;
    close(found, 35.279, 0.03, "38 psi at 5 °C, real air");
}

/// Computed, ideal gas: psi for each kelvin near 20 °C, and examples in °F.
#[test]
fn sensitivities_and_fahrenheit_examples() {
    for (precharge, each_kelvin) in [(28.0, 0.146), (38.0, 0.180), (50.0, 0.221)] {
        let up = precharge_at(precharge * PSI, celsius(20.0), celsius(21.0), 0.0).unwrap() / PSI;
        close(up - precharge, each_kelvin, 0.0006, &format!("{precharge} psi"));
    }
    let examples = [
        (38.0, 70.0, 40.0, 35.02, 0.006),
        (28.0, 70.0, 40.0, 25.58, 0.006),
        (28.0, 45.0, 75.0, 30.5, 0.06),
        (28.0, 70.0, 35.0, 25.2, 0.06),
    ];
    for (precharge, from, to, expected, tolerance) in examples {
        let found = precharge_at(precharge * PSI, fahrenheit(from), fahrenheit(to), 0.0).unwrap() / PSI;
        close(found, expected, tolerance, &format!("{precharge} psi, {from} to {to} °F"));
    }
    let lost = 50.0 - precharge_at(50.0 * PSI, celsius(20.0), celsius(15.0), 0.0).unwrap() / PSI;
    close(lost, 1.10, 0.005, "a false leak from 5 K at 50 psi");
}

/// Computed, polytropic change from 15 °C on filling 40 to 60 psi.
#[test]
fn air_warms_on_a_fast_fill() {
    for (exponent, degrees) in [(1.0, 15.0), (1.2, 30.4), (1.4, 41.8)] {
        let hot = air_temperature_after(celsius(15.0), 40.0 * PSI, 60.0 * PSI, 0.0, exponent).unwrap();
        close(hot, celsius(degrees), 0.06, &format!("n = {exponent}"));
    }
}
