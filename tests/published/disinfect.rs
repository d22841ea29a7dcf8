//! Chlorine doses of published tables.

use tankhand::physics::{bleach, dose_of_bleach, granules, water_in_pipe};

use super::{FOOT, GALLON, close};

const CUP: f64 = GALLON / 16.0;
const FLUID_OUNCE: f64 = GALLON / 128.0;
const QUART: f64 = GALLON / 4.0;
const IMPERIAL_GALLON: f64 = 4.546_09e-3;
const OUNCE: f64 = 0.453_592_37 / 16.0;

/// Published amounts of bleach, seen, and the dose each makes (computed): bleach in m³, its
/// strength in %, water in m³, dose in mg/L, tolerance.
const DOSES: &[(&str, f64, f64, f64, f64, f64)] = &[
    ("CDC flood guidance: 3 cups in 100 gal", 3.0 * CUP, 5.25, 100.0 * GALLON, 98.4, 0.1),
    ("Alberta Agdex 716 (A10): 0.042 L for 2.4 imp gal", 0.042e-3, 5.25, 2.4 * IMPERIAL_GALLON, 202.1, 0.1),
    ("Alberta, 12 %: 0.018 L for 2.4 imp gal, aim 200", 0.018e-3, 12.0, 2.4 * IMPERIAL_GALLON, 200.0, 8.0),
    ("Alberta, 4 in: 0.019 L for 1.1 imp gal, aim 200", 0.019e-3, 5.25, 1.1 * IMPERIAL_GALLON, 200.0, 8.0),
    ("Alberta, 8 in: 0.072 L for 4.2 imp gal, aim 200", 0.072e-3, 5.25, 4.2 * IMPERIAL_GALLON, 200.0, 8.0),
    ("Mesa County: 112 fl oz in 100 gal", 112.0 * FLUID_OUNCE, 5.25, 100.0 * GALLON, 459.0, 0.5),
    ("American Ground Water Trust: 1 qt in 50 gal, 5.25 %", QUART, 5.25, 50.0 * GALLON, 262.0, 0.6),
    ("American Ground Water Trust: 1 gal in 200 gal, 6 %", GALLON, 6.0, 200.0 * GALLON, 300.0, 0.1),
];

#[test]
fn doses_of_published_amounts() {
    for &(what, amount, percent, water, dose, tolerance) in DOSES {
        let found = dose_of_bleach(amount, percent / 100.0, water).unwrap() * 1e3;
        close(found, dose, tolerance, what);
    }
}

/// CDC NCEH "Disinfecting Wells" (2004): dug well of 5 ft, 4.5 cups a foot; 100.5 mg/L computed.
#[test]
fn dug_well() {
    let foot_of_water = water_in_pipe(5.0 * FOOT, FOOT).unwrap();
    let found = dose_of_bleach(4.5 * CUP, 0.0525, foot_of_water).unwrap() * 1e3;
    close(found, 100.5, 0.1, "5 ft dug well");
}

/// Computed grid: dose in mg/L, cups in 100 gal with 5.25, 6 and 8.25 % bleach.
#[test]
fn cups_in_a_hundred_gallons() {
    let table = [(50.0, [1.52, 1.33, 0.97]), (100.0, [3.05, 2.67, 1.94]), (200.0, [6.10, 5.33, 3.88])];
    for (dose, row) in table {
        for (strength, cups) in [0.0525, 0.06, 0.0825].into_iter().zip(row) {
            let found = bleach(100.0 * GALLON, strength, dose * 1e-3).unwrap() / CUP;
            close(found, cups, 0.006, &format!("{dose} mg/L with {strength}"));
        }
    }
}

/// CDC flood guidance, seen: 2 oz of 70 % granules in 100 gal, 104.8 mg/L computed; Alberta
/// Agdex 716 (A10): 3.12 g for 2.4 imp gal at 200 mg/L.
#[test]
fn granules_of_published_tables() {
    close(granules(100.0 * GALLON, 0.70, 104.8e-3).unwrap() / OUNCE, 2.0, 0.001, "CDC");
    let grams = granules(2.4 * IMPERIAL_GALLON, 0.70, 0.2).unwrap() * 1e3;
    close(grams, 3.12, 0.01, "Alberta");
}

/// CDC flood guidance, seen: diameter of the well in inches, gallons a foot as printed and as
/// computed from the geometry.
const CASINGS: &[(f64, f64, f64)] = &[
    (3.0, 0.37, 0.367),
    (4.0, 0.65, 0.653),
    (5.0, 1.0, 1.020),
    (6.0, 1.5, 1.469),
    (8.0, 2.6, 2.611),
    (10.0, 4.1, 4.080),
    (12.0, 6.0, 5.875),
];

#[test]
fn water_in_a_casing() {
    for &(inches, printed, computed) in CASINGS {
        let found = water_in_pipe(inches * FOOT / 12.0, FOOT).unwrap() / GALLON;
        close(found, computed, 0.0007, &format!("{inches} in"));
        close(found / printed, 1.0, 0.025, &format!("{inches} in, as printed"));
    }
}
