//! A test over what the formulas refuse: each kind once, with its whole sentence, which names
//! the limit and where it comes from.

use super::*;
use crate::quantity::{GALLON, PSI};

const WARM: f64 = 288.15;

/// What is refused, and the sentence.
fn refusals() -> Vec<(FormulaResult<f64>, &'static str)> {
    let (gal44, psi38, psi40, psi60) = (44.0 * GALLON, 38.0 * PSI, 40.0 * PSI, 60.0 * PSI);
    vec![
        (
            water_held(-10.0 * GALLON, psi38, psi60, 0.0),
            "the tank's volume, -10 gal, is less than nothing (an amount cannot be less than nothing)",
        ),
        (
            water_held(9_000.0 * GALLON, psi38, psi60, 0.0),
            "the tank's volume, 9000 gal, is not between 0.21134 pt and 5000 gal \
             (a guard against a slip in the unit or the decimal point, wider than any household system)",
        ),
        (
            precharge_at(psi38, -0.183_333_333, WARM, 0.0),
            "the temperature it was read at, -460 °F, is below absolute zero, -459.67 °F \
             (the definition of the kelvin, BIPM, The International System of Units, 2019)",
        ),
        (
            precharge_at(psi38, WARM, 373.15, 0.0),
            "the temperature asked about, 212 °F, is not between -40 °F and 140 °F \
             (air is an ideal gas within 0.5 % here up to 8 bar, by CoolProp 8.0.0; \
             tanks are made for at most 49 °C)",
        ),
        (
            absolute(-20.0 * PSI, 0.0),
            "the gauge pressure, -20 psi, is below vacuum, which is -14.696 psi here \
             (nothing can have less pressure than vacuum)",
        ),
        (
            absolute(200.0 * PSI, 0.0),
            "the gauge pressure, 200 psi, is not between -15.664 psi and 150 psi (Water Systems \
             Council pressurized water storage tank standard, scope: working pressure at most 150 psi)",
        ),
        (
            atmosphere(20_000.0),
            "the elevation, 65617 ft, is not between -1640.4 ft and 36089 ft \
             (U.S. Standard Atmosphere, 1976: lowest layer of the atmosphere, to 11 km)",
        ),
        (
            drawdown(gal44, psi38, psi60, psi40, 0.0),
            "the cut-in, 60 psi, is not below the cut-out, 40 psi \
             (a pump starts at the cut-in and stops at the higher cut-out)",
        ),
        (
            precharge_target(psi40, WARM, WARM, -2.0 * PSI, 0.0),
            "the gap, -2 psi, is less than nothing (an amount cannot be less than nothing)",
        ),
        (
            head(700.0),
            "the height, 2296.6 ft, is not between -1640.4 ft and 1640.4 ft \
             (water taken as incompressible: within 0.3 % to 500 m, textbook)",
        ),
        (
            free_air(gal44, psi40, psi38, 0.0),
            "the precharge wanted, 38 psi, is below the precharge found, 40 psi: let air out instead \
             (adding air raises the pressure)",
        ),
        (
            bleach(gal44, 0.9, 0.1),
            "the strength of the bleach, 0.9, is not between 0.005 and 0.2 \
             (household bleach is 3 to 8 %, pool bleach to 15 %, common practice)",
        ),
        (run_time(gal44, f64::NAN), "the pump's flow is not a number (arithmetic)"),
    ]
}

#[test]
fn each_refusal_names_the_limit_and_its_source() {
    for (result, sentence) in refusals() {
        assert_eq!(result.map_err(|fault| fault.to_string()), Err(sentence.to_string()));
    }
}
