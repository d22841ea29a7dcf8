//! The ranges within which the formulas are taken to hold, as data with their provenance.

use super::{FormulaResult, MessagePart, OutOfRange};
use crate::quantity::{FORMULA_CONFIDENCES, GALLON, HORSEPOWER, Measure, PSI, Scalar};

/// A range of one measure, both ends included, SI units.
#[derive(Debug, PartialEq)]
pub struct Limit {
    /// What it limits.
    pub measure: Measure,
    /// The least value taken.
    pub least: f64,
    /// The greatest value taken.
    pub most: f64,
    /// Where the range comes from.
    pub source: &'static str,
}

/// How far a value may lie beyond an end of a range, as a share of it, and still be meant to lie on it.
const ROUNDING: f64 = 1e-12;

const fn limit(measure: Measure, least: f64, most: f64, source: &'static str) -> Limit {
    Limit { measure, least, most, source }
}

const SLIP: &str = "a guard against a slip in the unit or the decimal point, wider than any household system";

/// Elevation above sea level: the lowest dry land to the top of the formula's layer.
pub const ELEVATION: Limit = limit(
    Measure::Length,
    -500.0,
    11_000.0,
    "U.S. Standard Atmosphere, 1976: lowest layer of the atmosphere, to 11 km",
);

/// The greatest gauge pressure. (The least is just above vacuum, which elevation decides.)
pub const GAUGE_PRESSURE: Limit = limit(
    Measure::Pressure,
    -SEA_LEVEL_BOUND,
    150.0 * PSI,
    "Water Systems Council pressurized water storage tank standard, scope: working pressure at most 150 psi",
);
/// A standard atmosphere at 500 m below sea level, rounded up.
const SEA_LEVEL_BOUND: f64 = 108_000.0;

/// Temperature of the air in a tank.
pub const TEMPERATURE: Limit = limit(
    Measure::Temperature,
    233.15,
    333.15,
    "air is an ideal gas within 0.5 % here up to 8 bar, by CoolProp 8.0.0; tanks are made for at most 49 °C",
);

/// Volume of a tank, or of water.
pub const VOLUME: Limit = limit(Measure::Volume, 1e-4, 5_000.0 * GALLON, SLIP);

/// Power of a pump's motor.
pub const POWER: Limit = limit(Measure::Power, 1.0, 100.0 * HORSEPOWER, SLIP);

/// Volume of water drawn, where none is a possible answer.
pub const DRAWDOWN: Limit = limit(Measure::Volume, 0.0, VOLUME.most, SLIP);

/// Volume of water that a formula divides by.
pub const SOME_WATER: Limit = limit(Measure::Volume, 1e-6, VOLUME.most, SLIP);

/// Volume of one stroke of a hand pump.
pub const STROKE: Limit = limit(Measure::Volume, 1e-5, 1e-2, SLIP);

/// Flow of water or of free air.
pub const FLOW: Limit = limit(Measure::Flow, 1e-8, 0.1, SLIP);

/// A length of time that a formula divides by.
pub const DURATION: Limit = limit(Measure::Duration, 0.1, 3.2e7, SLIP);

/// Height of a water column, up or down.
pub const HEIGHT: Limit =
    limit(Measure::Length, -500.0, 500.0, "water taken as incompressible: within 0.3 % to 500 m, textbook");

/// The gap between the precharge and the cut-in.
pub const GAP: Limit = limit(
    Measure::PressureChange,
    0.1 * PSI,
    100.0 * PSI,
    "the precharge must lie below the cut-in, common practice",
);

/// What two gauges may be off against each other, at the confidence asked for.
pub const GAUGE_UNCERTAINTY: Limit = limit(
    Measure::PressureChange,
    0.0,
    50.0 * PSI,
    "gauges that may be off by more cannot set a precharge, judgement",
);

/// A moment on the clock of a trend; s.
pub const MOMENT: Limit = limit(Measure::Number, -1e12, 1e12, SLIP);

/// A reading of a trend, in whatever unit.
pub const READING: Limit = limit(Measure::Number, -1e12, 1e12, SLIP);

/// The standard uncertainty of such a reading.
pub const READING_U: Limit = limit(Measure::Number, 1e-12, 1e12, SLIP);

/// A confidence, as a probability.
pub const CONFIDENCE: Limit = limit(
    Measure::Number,
    *FORMULA_CONFIDENCES.start(),
    *FORMULA_CONFIDENCES.end(),
    "below a half no confidence is meant, and 1 is never reached",
);

/// Inner diameter of a pipe, or of a dug well.
pub const BORE: Limit = limit(Measure::Length, 0.001, 10.0, SLIP);

/// The highest pressure a pump can make.
pub const SHUTOFF: Limit = limit(Measure::Pressure, 0.0, 500.0 * PSI, SLIP);

/// Length of a pipe.
pub const PIPE: Limit = limit(Measure::Length, 0.0, 1_000.0, SLIP);

/// Starts of a pump in an hour.
pub const STARTS: Limit = limit(Measure::Number, 0.01, 3_600.0, SLIP);

/// Mass put on a scale.
pub const MASS: Limit = limit(Measure::Mass, 0.1, 20_000.0, SLIP);

/// Standard uncertainty of a pressure loss.
pub const LOSS: Limit = limit(Measure::PressureChange, 0.1, 1e5, SLIP);

/// A leak of free air.
pub const LEAK: Limit = limit(Measure::Flow, 1e-11, 0.1, SLIP);

/// Strength of bleach, weight in volume, as a fraction.
pub const STRENGTH: Limit =
    limit(Measure::Number, 0.005, 0.20, "household bleach is 3 to 8 %, pool bleach to 15 %, common practice");

/// Strength of chlorine granules, as a fraction.
pub const GRANULE_STRENGTH: Limit =
    limit(Measure::Number, 0.10, 0.80, "calcium hypochlorite is sold at 65 to 78 %, common practice");

/// A dose of chlorine.
pub const DOSE: Limit =
    limit(Measure::MassConcentration, 1e-4, 0.5, "Maryland COMAR 26.04.04.24: at most 500 mg/L in a well");

/// A volume of disinfectant.
pub const DISINFECTANT: Limit = limit(Measure::Volume, 1e-7, 2.0, SLIP);

/// Turns of an adjuster, clockwise above zero.
pub const TURNS: Limit = limit(Measure::Number, -20.0, 20.0, SLIP);

/// Diameter of an opening.
pub const OPENING: Limit = limit(Measure::Length, 0.001, 0.1, SLIP);

/// Pressure that drives water out.
pub const DRIVING: Limit = limit(
    Measure::Pressure,
    1e3,
    GAUGE_PRESSURE.most,
    "below 1 kPa the height of the water in the tank decides",
);

const COLDEST: &str = "the definition of the kelvin, BIPM, The International System of Units, 2019";
const NOTHING: &str = "an amount cannot be less than nothing";

impl Limit {
    /// Refuses what is outside, under the name `name`.
    pub(crate) fn check<S: Scalar>(&self, name: &'static str, value: &S) -> FormulaResult<()> {
        let value = value.value();
        // Rounding in the conversion of units must not decide: 140 °F is 60 °C.
        let slack = |end: f64| ROUNDING * end.abs();
        if value.is_finite()
            && self.least - slack(self.least) <= value
            && value <= self.most + slack(self.most)
        {
            return Ok(());
        }
        let name = MessagePart::Words(name);
        if !value.is_finite() {
            return Err(OutOfRange::new("{} is not a number", &[name], "arithmetic"));
        }
        let found = MessagePart::Value(self.measure, value);
        if self.measure == Measure::Temperature && value < 0.0 {
            let zero = MessagePart::Value(self.measure, 0.0);
            return Err(OutOfRange::new("{}, {}, is below absolute zero, {}", &[name, found, zero], COLDEST));
        }
        if self.least >= 0.0 && value < 0.0 {
            return Err(OutOfRange::new("{}, {}, is less than nothing", &[name, found], NOTHING));
        }
        let ends = [self.least, self.most].map(|end| MessagePart::Value(self.measure, end));
        Err(OutOfRange::new(
            "{}, {}, is not between {} and {}",
            &[name, found, ends[0], ends[1]],
            self.source,
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ends_belong_and_what_is_no_number_does_not() {
        for end in [ELEVATION.least, ELEVATION.most] {
            assert_eq!(ELEVATION.check("the elevation", &end), Ok(()));
        }
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            let fault = ELEVATION.check("the elevation", &bad).unwrap_err();
            assert_eq!(
                fault.to_string(),
                "the elevation is not a number \
             (arithmetic)"
            );
        }
        let fault = ELEVATION.check("the elevation", &20_000.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "the elevation, 65617 ft, is not between -1640.4 ft and 36089 ft \
             (U.S. Standard Atmosphere, 1976: lowest layer of the atmosphere, to 11 km)"
        );
    }

    /// Absolute zero, and nothing at all, are outside a range and no more than that.
    #[test]
    fn what_cannot_be_begins_right_below_zero() {
        let message = |limit: &Limit, value: f64| limit.check("it", &value).unwrap_err().to_string();
        let range = format!("is not between -40 °F and 140 °F ({})", TEMPERATURE.source);
        assert_eq!(
            [-1e-9, 0.0, 0.5].map(|value| message(&TEMPERATURE, value)),
            [
                format!("it, -459.67 °F, is below absolute zero, -459.67 °F ({COLDEST})"),
                format!("it, -459.67 °F, {range}"),
                format!("it, -458.77 °F, {range}"),
            ]
        );
        assert_eq!(
            [
                message(&VOLUME, -1e-3),
                message(&VOLUME, 0.0),
                message(&DRAWDOWN, -1e-3),
                message(&HEIGHT, -1e3)
            ],
            [
                format!("it, -0.26417 gal, is less than nothing ({NOTHING})"),
                format!("it, 0 gal, is not between 0.21134 pt and 5000 gal ({SLIP})"),
                format!("it, -0.26417 gal, is less than nothing ({NOTHING})"),
                format!("it, -3280.8 ft, is not between -1640.4 ft and 1640.4 ft ({})", HEIGHT.source),
            ]
        );
        assert_eq!(DRAWDOWN.check("it", &0.0), Ok(()));
    }
}
