//! Checks against figures from outside the project: standards, handbooks, extension bulletins,
//! worked examples and general-purpose libraries. The source stands beside each check;
//! `README.md` in this folder lists them all and says which figures were seen in print.

#![allow(clippy::unwrap_used)]

mod air;
mod atmosphere;
mod disinfect;
mod drain;
mod ends;
mod fast;
mod gauges;
mod gum;
mod hold;
mod inflate;
mod metals;
mod plan;
mod plant;
mod pump;
mod reach;
mod tanks;
mod target;
mod temperature;
mod trend;
mod water;

/// Pascals in a psi (NIST SP 811, App. B.8).
const PSI: f64 = 6_894.757_293_168_361;
/// Cubic metres in a US gallon (NIST SP 811, App. B.8).
const GALLON: f64 = 3.785_411_784e-3;
/// Metres in a foot (exact).
const FOOT: f64 = 0.3048;
/// Cubic metres a second in a gallon a minute.
const GPM: f64 = GALLON / 60.0;

/// A temperature in K from °C.
fn celsius(degrees: f64) -> f64 {
    degrees + 273.15
}

/// A temperature in K from °F.
fn fahrenheit(degrees: f64) -> f64 {
    (degrees + 459.67) / 1.8
}

/// The found figure must lie within `tolerance` of the published one.
#[track_caller]
fn close(found: f64, published: f64, tolerance: f64, what: &str) {
    assert!((found - published).abs() <= tolerance, "{what}: found {found}, published {published}");
}
