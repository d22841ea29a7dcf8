//! Standing water.

use tankhand::physics::constants::WATER_DENSITY;
use tankhand::physics::{head, pressure_at};

use super::{FOOT, PSI, close};

/// IAPWS-95 (iapws 1.5.5, CoolProp 8.0.0) at 10 °C: 0.433399 psi/ft, 2.30735 ft/psi.
#[test]
fn head_of_water_at_10_celsius() {
    let psi_each_foot = head(FOOT).unwrap() / PSI;
    close(psi_each_foot, 0.433_399, 1e-6, "psi/ft");
    close(1.0 / psi_each_foot, 2.307_35, 1e-5, "ft/psi");
    close(WATER_DENSITY.value * GALLON_IN_POUNDS, 8.3429, 1e-4, "lb/gal");
}

/// Pounds that a gallon of a liquid of 1 kg/m³ weighs.
const GALLON_IN_POUNDS: f64 = super::GALLON / 0.453_592_37;

/// Rules of thumb, seen: 2.31 ft/psi (USDA-NRCS *Missouri Watering Systems for Serious
/// Graziers*, p. 29); 0.433 psi/ft (operators' mathematics text); 62.4 lb/ft³ in a textbook:
/// 105 ft is 45.5 psi, 130 ft is 56.3 psi.
#[test]
fn rules_of_thumb_for_head() {
    let psi = |feet: f64| head(feet * FOOT).unwrap() / PSI;
    close(1.0 / psi(1.0), 2.31, 0.005, "ft/psi");
    close(psi(1.0), 0.433, 0.0005, "psi/ft");
    close(psi(105.0), 45.5, 0.05, "105 ft");
    close(psi(130.0), 56.3, 0.05, "130 ft");
}

/// Computed: a tank 20 ft above the switch sees 8.7 psi less.
#[test]
fn tank_above_the_switch() {
    close(pressure_at(40.0 * PSI, 20.0 * FOOT).unwrap() / PSI, 31.3, 0.05, "20 ft up");
}

/// IAPWS-95 (iapws 1.5.5; CoolProp 8.0.0 agrees to all digits): °C, kg/m³, psi/ft. The program
/// takes one density for all; from ice to a hot summer's tank that is within 0.8 %.
const BY_TEMPERATURE: &[(f64, f64, f64)] = &[
    (0.01, 999.843_8, 0.433_460),
    (4.0, 999.974_9, 0.433_517),
    (10.0, 999.702_5, 0.433_399),
    (15.0, 999.102_6, 0.433_138),
    (20.0, 998.207_2, 0.432_750),
    (25.0, 997.047_6, 0.432_248),
    (30.0, 995.649_5, 0.431_641),
    (40.0, 992.216_4, 0.430_153),
];

#[test]
fn one_density_serves_cold_water() {
    let psi_each_foot = head(FOOT).unwrap() / PSI;
    for &(degrees, density, psi) in BY_TEMPERATURE {
        close(psi_each_foot * density / 999.702_5, psi, 1e-6, &format!("{degrees} °C"));
        let tolerance = if degrees <= 25.0 { 0.003 } else { 0.008 };
        close(psi_each_foot / psi, 1.0, tolerance, &format!("{degrees} °C"));
    }
}
