//! Constants as data: value, unit and where it comes from.

use crate::quantity::STANDARD_ATMOSPHERE;

/// A constant of nature, of a standard, or of the trade.
#[derive(Debug, PartialEq)]
pub struct Constant {
    /// What it is.
    pub name: &'static str,
    /// Its value in `unit`.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
    /// Where it comes from.
    pub source: &'static str,
}

const US_STANDARD: &str = "U.S. Standard Atmosphere, 1976 (NOAA/NASA/USAF, NOAA-S/T 76-1562)";

/// Pressure of the standard atmosphere at sea level.
pub const SEA_LEVEL_PRESSURE: Constant = Constant {
    name: "pressure of the standard atmosphere at sea level",
    value: STANDARD_ATMOSPHERE,
    unit: "Pa",
    source: US_STANDARD,
};

/// Temperature of the standard atmosphere at sea level.
pub const SEA_LEVEL_TEMPERATURE: Constant = Constant {
    name: "temperature of the standard atmosphere at sea level",
    value: 288.15,
    unit: "K",
    source: US_STANDARD,
};

/// How fast the standard atmosphere cools with height, up to 11 km.
pub const LAPSE_RATE: Constant = Constant {
    name: "lapse rate of the standard atmosphere",
    value: 0.0065,
    unit: "K/m",
    source: US_STANDARD,
};

/// The earth's radius by which the standard atmosphere turns geometric into geopotential height.
pub const EARTH_RADIUS: Constant =
    Constant { name: "effective radius of the earth", value: 6_356_766.0, unit: "m", source: US_STANDARD };

/// Molar mass of air.
pub const AIR_MOLAR_MASS: Constant =
    Constant { name: "molar mass of air", value: 0.028_964_4, unit: "kg/mol", source: US_STANDARD };

/// The gas constant as the standard atmosphere takes it.
pub const ATMOSPHERE_GAS_CONSTANT: Constant = Constant {
    name: "gas constant of the standard atmosphere",
    value: 8.314_32,
    unit: "J/(mol K)",
    source: US_STANDARD,
};

/// The molar gas constant, exact in the SI since 2019.
pub const GAS_CONSTANT: Constant = Constant {
    name: "molar gas constant",
    value: 8.314_462_618_153_24,
    unit: "J/(mol K)",
    source: "the SI (BIPM, The International System of Units, 9th edition, 2019): k times N_A, both exact",
};

/// Standard acceleration of gravity.
pub const GRAVITY: Constant = Constant {
    name: "standard acceleration of gravity",
    value: 9.806_65,
    unit: "m/s²",
    source: "NIST SP 811 (2008), Appendix B.8, exact by definition",
};

/// Viscosity of water at 10 °C and 1 atm.
pub const WATER_VISCOSITY: Constant = Constant {
    name: "viscosity of water at 10 °C",
    value: 1.305_9e-3,
    unit: "Pa s",
    source: "IAPWS R12-08, by the Python package chemicals 1.5.2",
};

/// Density of water at 10 °C, near what a well yields.
pub const WATER_DENSITY: Constant = Constant {
    name: "density of water at 10 °C and 101.325 kPa",
    value: 999.702_5,
    unit: "kg/m³",
    source: "IAPWS-95, computed with iapws 1.5.5 and CoolProp 8.0.0",
};

/// How many standard uncertainties a change must have for both errors, a change unseen and a
/// change seen where there is none, to be 5 %.
pub const DETECTION_FACTOR: Constant = Constant {
    name: "detection limit, in standard uncertainties",
    value: 3.29,
    unit: "1",
    source: "L. A. Currie, Analytical Chemistry 40 (1968) 586 (from memory): twice 1.645",
};

#[cfg(test)]
mod tests {
    use super::*;

    /// All of them.
    const CONSTANTS: &[Constant] = &[
        SEA_LEVEL_PRESSURE,
        SEA_LEVEL_TEMPERATURE,
        LAPSE_RATE,
        EARTH_RADIUS,
        AIR_MOLAR_MASS,
        ATMOSPHERE_GAS_CONSTANT,
        GAS_CONSTANT,
        GRAVITY,
        WATER_DENSITY,
        WATER_VISCOSITY,
        DETECTION_FACTOR,
    ];

    #[test]
    fn each_has_a_source_and_a_unit_and_its_own_name() {
        let mut names: Vec<_> = CONSTANTS.iter().map(|c| c.name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), CONSTANTS.len());
        assert!(CONSTANTS.iter().all(|c| !c.source.is_empty() && !c.unit.is_empty() && c.value > 0.0));
    }
}
