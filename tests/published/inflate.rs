//! Air to add.

use tankhand::physics::{compressor_time, free_air, strokes};

use super::{GALLON, PSI, close};

const CUBIC_FOOT: f64 = 0.028_316_846_592;

/// Boyle's law worked outside the project: gallons, psi from and to; litres and cubic feet of
/// free air, strokes of 0.5 L, minutes at 2 ft³/min.
const TABLE: &[(f64, f64, f64, f64, f64, f64, f64)] = &[
    (20.0, 0.0, 38.0, 195.8, 6.913, 392.0, 3.46),
    (20.0, 28.0, 38.0, 51.5, 1.819, 104.0, 0.91),
    (44.0, 0.0, 28.0, 317.3, 11.207, 635.0, 5.60),
    (44.0, 0.0, 38.0, 430.7, 15.209, 862.0, 7.60),
    (44.0, 28.0, 38.0, 113.3, 4.002, 227.0, 2.00),
    (86.0, 0.0, 38.0, 841.8, 29.727, 1684.0, 14.86),
];

#[test]
fn air_strokes_and_minutes() {
    for &(gallons, from, to, litres, cubic_feet, count, minutes) in TABLE {
        let what = format!("{gallons} gal, {from} to {to} psi");
        let (volume, from, to) = (gallons * GALLON, from * PSI, to * PSI);
        let air = free_air(volume, from, to, 0.0).unwrap();
        close(air * 1e3, litres, 0.06, &what);
        close(air / CUBIC_FOOT, cubic_feet, 0.0006, &what);
        assert_eq!(strokes(volume, from, to, 0.5e-3, 0.0).unwrap().ceil(), count, "{what}");
        let time = compressor_time(volume, from, to, 2.0 * CUBIC_FOOT / 60.0, 0.0).unwrap();
        close(time / 60.0, minutes, 0.006, &what);
    }
    let air = free_air(44.0 * GALLON, 0.0, 38.0 * PSI, 0.0).unwrap();
    close(air * 1e3, 430.68, 0.05, "44 gal, 0 to 38 psi");
}

/// Mass of the air added against real air, CoolProp 8.0.0 at 20 °C, grams: within 0.3 %.
#[test]
fn mass_of_the_air_added() {
    let density = 1.204_58; // kg/m³ at 20 °C and 1 atm, CoolProp 8.0.0
    let table = [(20.0, 0.0, 38.0, 236.1), (44.0, 0.0, 28.0, 382.7), (86.0, 0.0, 38.0, 1015.3)];
    for (gallons, from, to, grams) in table {
        let air = free_air(gallons * GALLON, from * PSI, to * PSI, 0.0).unwrap();
        close(air * density * 1e3 / grams, 1.0, 0.003, &format!("{gallons} gal"));
    }
}

/// A textbook problem, seen: pump 4.0 cm by 40.0 cm, 25 L tyre from 0 to 24 psi: "80 strokes",
/// 81.2 when worked without rounding.
#[test]
fn textbook_tyre_pump() {
    let stroke = std::f64::consts::PI * 0.02f64.powi(2) * 0.40;
    close(stroke * 1e3, 0.503, 0.0005, "stroke in litres");
    let found = strokes(0.025, 0.0, 24.0 * PSI, stroke, 0.0).unwrap();
    close(found, 81.2, 0.1, "unrounded");
    close(found, 80.0, 2.0, "as printed");
}

/// A second textbook problem, seen: pump 2 cm by 25 cm, 1 L from 1 to 8 bar absolute: "90".
#[test]
fn textbook_flask_pump() {
    let stroke = std::f64::consts::PI * 0.01f64.powi(2) * 0.25;
    // The problem takes the air outside as 1 bar.
    let found = strokes(1e-3, 0.0, 7e5, stroke, 0.0).unwrap() * 1.013_25;
    close(found, 89.1, 0.1, "unrounded");
    close(found, 90.0, 1.0, "as printed");
}
