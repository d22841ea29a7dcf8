//! The standard atmosphere.

use tankhand::physics::{absolute, atmosphere, gauge, precharge_at};

use super::{FOOT, PSI, celsius, close};

/// *U.S. Standard Atmosphere, 1976*, geometric altitude: m, kPa. Computed from its formula;
/// ambiance 1.3.1 and fluids 1.3.1 (`ATMOSPHERE_1976`) agree to 0.02 Pa at every row.
const BY_METRE: &[(f64, f64)] = &[
    (0.0, 101.3250),
    (500.0, 95.4613),
    (1000.0, 89.8763),
    (1500.0, 84.5597),
    (2000.0, 79.5014),
    (2500.0, 74.6918),
    (3000.0, 70.1212),
];

/// The same by feet: ft, kPa, psi, and psi as the ASHRAE altitude table prints it (seen).
const BY_FOOT: &[(f64, f64, f64, f64)] = &[
    (0.0, 101.3250, 14.6959, 14.696),
    (500.0, 99.5076, 14.4324, 14.430),
    (1_000.0, 97.7167, 14.1726, 14.175),
    (2_000.0, 94.2136, 13.6645, 13.664),
    (3_000.0, 90.8131, 13.1713, 13.173),
    (4_000.0, 87.5130, 12.6927, 12.682),
    (5_000.0, 84.3111, 12.2283, 12.230),
    (6_000.0, 81.2049, 11.7778, 11.778),
    (7_000.0, 78.1923, 11.3408, 11.341),
    (8_000.0, 75.2712, 10.9172, 10.914),
    (9_000.0, 72.4393, 10.5064, 10.506),
    (10_000.0, 69.6946, 10.1084, 10.108),
];

#[test]
fn standard_atmosphere_1976_by_metre() {
    for &(metres, kpa) in BY_METRE {
        close(atmosphere(metres).unwrap() / 1e3, kpa, 0.00006, &format!("{metres} m"));
    }
}

#[test]
fn standard_atmosphere_1976_by_foot() {
    for &(feet, kpa, psi, _) in BY_FOOT {
        let found = atmosphere(feet * FOOT).unwrap();
        close(found / 1e3, kpa, 0.00006, &format!("{feet} ft"));
        close(found / PSI, psi, 0.00006, &format!("{feet} ft"));
    }
}

/// The printed column went through inches of mercury and is off by up to 0.011 psi.
#[test]
fn ashrae_printed_table() {
    for &(feet, _, _, printed) in BY_FOOT {
        close(atmosphere(feet * FOOT).unwrap() / PSI, printed, 0.012, &format!("{feet} ft"));
    }
}

/// ASHRAE *Fundamentals*, Psychrometrics, inch-pound form, seen; it takes the altitude itself
/// for the geopotential height, so it drifts from the standard with height.
#[test]
fn ashrae_inch_pound_formula() {
    for thousand in 0..=10 {
        let feet = f64::from(thousand) * 1_000.0;
        let ashrae = 14.696 * (1.0 - 6.8754e-6 * feet).powf(5.2559);
        close(atmosphere(feet * FOOT).unwrap() / PSI, ashrae, 0.003, &format!("{feet} ft"));
    }
    close(14.696f64 * (1.0f64 - 6.8754e-6 * 6_000.0).powf(5.2559), 11.778, 0.002, "as printed at 6,000 ft");
}

/// Derived: a sealed tank carried from sea level to 6,000 ft reads 2.92 psi higher.
#[test]
fn a_sealed_tank_carried_up_reads_higher() {
    let inside = absolute(38.0 * PSI, 0.0).unwrap();
    close(gauge(inside, 6_000.0 * FOOT).unwrap() / PSI - 38.0, 2.92, 0.005, "at 6,000 ft");
    let same = precharge_at(38.0 * PSI, celsius(15.0), celsius(15.0), 0.0).unwrap();
    close(same / PSI, 38.0, 1e-9, "same temperature");
}
