//! Showing values: in the units of the house, with the digits the uncertainty warrants.

use super::{DAY, Family, HOUR, Measure, Uncertain, Unit, unit};

/// Which units a household reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Units {
    /// psi, gallons, °F, feet.
    #[default]
    Us,
    /// bar, litres, °C, metres.
    Metric,
}

impl Units {
    /// The choice of that name: `us` or `metric`.
    pub fn named(name: &str) -> Option<Units> {
        match name {
            "us" => Some(Units::Us),
            "metric" => Some(Units::Metric),
            _ => None,
        }
    }

    /// `us` or `metric`.
    pub fn name(self) -> &'static str {
        match self {
            Units::Us => "us",
            Units::Metric => "metric",
        }
    }

    /// The step by which a household sets its switch: 1 psi, or 0.1 bar; Pa.
    pub fn pressure_step(self) -> f64 {
        match self {
            Units::Us => super::PSI,
            Units::Metric => 1e4,
        }
    }

    /// The unit in which a value of this measure is shown, and in which a bare number is taken.
    ///
    /// ```
    /// use tankhand::quantity::{Measure, Units};
    /// assert_eq!(Units::Metric.unit_for(Measure::Pressure).unwrap().symbol, "bar");
    /// assert_eq!(Units::Us.unit_for(Measure::Count), None);
    /// ```
    pub fn unit_for(self, measure: Measure) -> Option<&'static Unit> {
        let (us, metric) = match measure.family() {
            Family::Pressure => ("psi", "bar"),
            Family::Temperature => ("°F", "°C"),
            Family::Volume => ("gal", "L"),
            Family::Flow => ("gal/min", "L/min"),
            Family::Length => ("ft", "m"),
            Family::Mass => ("lb", "kg"),
            Family::Power => ("hp", "kW"),
            Family::Time => ("min", "min"),
            Family::Concentration => ("mL/L", "mL/L"),
            Family::MassConcentration => ("mg/L", "mg/L"),
            Family::Number => return None,
        };
        unit(if self == Units::Us { us } else { metric })
    }
}

impl Unit {
    /// The SI value of `number` of this unit: for a point on a scale with its zero, for a
    /// difference without.
    ///
    /// ```
    /// use tankhand::quantity::{Measure, unit};
    /// let f = unit("°F").unwrap();
    /// assert!((f.to_si(Measure::Temperature, 32.0) - 273.15).abs() < 1e-9);
    /// assert!((f.to_si(Measure::TemperatureChange, 9.0) - 5.0).abs() < 1e-9);
    /// ```
    pub fn to_si(&self, measure: Measure, number: f64) -> f64 {
        let zero = if measure == Measure::Temperature { self.zero } else { 0.0 };
        number * self.size + zero
    }

    /// How many of this unit an SI value is.
    pub fn number_of(&self, measure: Measure, si: f64) -> f64 {
        let zero = if measure == Measure::Temperature { self.zero } else { 0.0 };
        (si - zero) / self.size
    }
}

/// How far a round number may lie from what it stands for, as a share. Judgement.
const ROUND_WITHIN: f64 = 0.02;

/// A value in the household's unit: `36.2 psi`.
pub fn show(measure: Measure, value: &Uncertain, units: Units) -> String {
    match unit_to_show(measure, value.value(), units) {
        _ if measure == Measure::Instant => format!("{:.0} s", value.value()),
        Some(unit) => show_in(measure, value, unit),
        None => show_number(value.value(), 0.5 * value.expanded_uncertainty()),
    }
}

/// The household's unit for a value, or the next smaller or larger one in which it reads more easily.
fn unit_to_show(measure: Measure, si: f64, units: Units) -> Option<&'static Unit> {
    if measure == Measure::Duration {
        return Some(fitting_time(si));
    }
    units.unit_for(measure).map(|unit| fitting_size(measure, unit, si))
}

/// As [`show`], but an exact value has at most three significant digits, and no thousandths of a bar: what a
/// person needs who reads a gauge.
///
/// ```
/// use tankhand::quantity::{Measure, Uncertain, Units, show_briefly};
/// let two_psi = Uncertain::exact(13_789.5);
/// assert_eq!(show_briefly(Measure::PressureChange, &two_psi, Units::Metric), "0.14 bar");
/// ```
pub fn show_briefly(measure: Measure, value: &Uncertain, units: Units) -> String {
    show_exact(measure, value, units, &|number| {
        if is_below(measure, units, number, 1.0) { hundredths(number) } else { significant(number, 3) }
    })
}

/// As [`show`], but an exact value is a round number: what a round number in one unit is in another.
///
/// It has two significant digits, the second a 5 or a 0 where that is within 2 %; a small pressure
/// in bar is one that has a mark on a gauge.
///
/// ```
/// use tankhand::quantity::{Measure, Uncertain, Units, show_roundly};
/// let roundly = |psi: f64| {
///     show_roundly(Measure::Pressure, &Uncertain::exact(psi * 6_894.757), Units::Metric)
/// };
/// assert_eq!([0.75, 2.0, 3.0, 5.0].map(roundly), ["0.05 bar", "0.15 bar", "0.2 bar", "0.35 bar"]);
/// assert_eq!([10.0, 75.0, 80.0].map(roundly), ["0.7 bar", "5.2 bar", "5.5 bar"]);
/// ```
pub fn show_roundly(measure: Measure, value: &Uncertain, units: Units) -> String {
    show_exact(measure, value, units, &|number| match measure {
        Measure::Temperature | Measure::Duration => significant(number, 2),
        _ if is_below(measure, units, number, 0.1) => hundredths(number),
        // No gauge of a household has marks closer than a twentieth of a bar.
        _ if is_below(measure, units, number, 0.5) => trimmed(rounded((number * 20.0).round() / 20.0, 2)),
        _ => round_number(number),
    })
}

/// Whether a number is a pressure of so few bar.
fn is_below(measure: Measure, units: Units, number: f64, bar: f64) -> bool {
    let is_pressure = matches!(measure, Measure::Pressure | Measure::PressureChange);
    is_pressure && units == Units::Metric && number.abs() < bar
}

/// No gauge of a household shows thousandths of a bar; what is less than a tenth keeps its first digit.
fn hundredths(number: f64) -> String {
    if number.abs() < 0.1 { significant(number, 1) } else { trimmed(rounded(number, 2)) }
}

fn show_exact(measure: Measure, value: &Uncertain, units: Units, shown: &dyn Fn(f64) -> String) -> String {
    if value.standard_uncertainty() > 0.0 || measure == Measure::Instant {
        return show(measure, value, units);
    }
    let unit = unit_to_show(measure, value.value(), units);
    let number = unit.map_or(value.value(), |unit| unit.number_of(measure, value.value()));
    let symbol = unit.map_or(String::new(), |unit| format!(" {}", unit.symbol));
    format!("{}{symbol}", shown(number))
}

/// A value in a given unit: `2.50 bar`.
pub(crate) fn show_in(measure: Measure, value: &Uncertain, unit: &Unit) -> String {
    let number = unit.number_of(measure, value.value());
    format!("{} {}", show_number(number, 0.5 * value.expanded_uncertainty() / unit.size), unit.symbol)
}

/// A value with its limits at about 95 % ([`Uncertain::expanded_uncertainty`]):
/// `36.2 ± 0.9 psi`. An exact value is shown without limits.
///
/// ```
/// use tankhand::quantity::{Measure, SourceId, Uncertain, Units, show_with_limits};
/// let x = Uncertain::exact(249_590.0).with_component(SourceId::Reading(1), 3_100.0);
/// assert_eq!(show_with_limits(Measure::Pressure, &x, Units::Us), "36.2 ± 0.9 psi");
/// ```
pub fn show_with_limits(measure: Measure, value: &Uncertain, units: Units) -> String {
    if exact(value) || measure == Measure::Instant {
        return show(measure, value, units);
    }
    limited(measure, value, unit_to_show(measure, value.value(), units))
}

/// As [`show_with_limits`], in a given unit.
///
/// ```
/// use tankhand::quantity::{Measure, SourceId, Uncertain, show_in_with_limits, unit};
/// let x = Uncertain::exact(249_590.0).with_component(SourceId::Reading(1), 3_100.0);
/// assert_eq!(show_in_with_limits(Measure::Pressure, &x, unit("bar").unwrap()), "2.50 ± 0.06 bar");
/// ```
pub fn show_in_with_limits(measure: Measure, value: &Uncertain, unit: &'static Unit) -> String {
    if exact(value) { show_in(measure, value, unit) } else { limited(measure, value, Some(unit)) }
}

/// What is left when two equal uncertainties cancel but for rounding is no uncertainty.
fn exact(value: &Uncertain) -> bool {
    value.standard_uncertainty() <= 1e-9 * value.value().abs()
}

fn limited(measure: Measure, value: &Uncertain, unit: Option<&'static Unit>) -> String {
    let (size, symbol) = unit.map_or((1.0, String::new()), |unit| (unit.size, format!(" {}", unit.symbol)));
    let number = unit.map_or(value.value(), |unit| unit.number_of(measure, value.value()));
    let limit = value.expanded_uncertainty() / size;
    let decimals = warranted_decimals(limit);
    let last = 10f64.powi(-i32::try_from(decimals).unwrap_or(0));
    let down = (limit / last).round() * last;
    let shown = if down < LEAST_SHOWN * limit { down + last } else { down };
    format!("{} ± {shown:.decimals$}{symbol}", rounded(number, decimals))
}

/// Of a limit no less is shown: rounding down, it would promise too much. Judgement.
const LEAST_SHOWN: f64 = 0.9;

/// Small volumes read better in small units.
fn fitting_size(measure: Measure, usual: &'static Unit, si: f64) -> &'static Unit {
    match (measure, usual.symbol) {
        (Measure::Volume, "L") if si.abs() < 1e-3 && si != 0.0 => unit("mL").unwrap_or(usual),
        (Measure::Volume, "gal") if si.abs() < 0.9e-3 && si != 0.0 => unit("pt").unwrap_or(usual),
        _ => usual,
    }
}

/// Up to five minutes a time that is no half of a minute is told in seconds, as it is read from a watch.
fn fitting_time(seconds: f64) -> &'static Unit {
    let symbol = match seconds.abs() {
        s if s < 120.0 || s < 300.0 && s % 30.0 != 0.0 => "s",
        s if s < 2.0 * HOUR => "min",
        s if s < 2.0 * DAY => "h",
        _ => "day",
    };
    unit(symbol).unwrap_or(&super::UNITS[0])
}

/// A bare number with the digits that its standard uncertainty warrants, noughts at the end left
/// off; an exact one with up to five significant digits.
///
/// ```
/// use tankhand::quantity::show_number;
/// assert_eq!(show_number(25.09812, 0.0), "25.098");
/// assert_eq!(show_number(38.0, 0.0), "38");
/// assert_eq!(show_number(36.537, 1.2), "36.5");
/// assert_eq!(show_number(37.02, 1.2), "37");
/// assert_eq!(show_number(36.537, 1.6), "37");
/// ```
pub fn show_number(number: f64, u: f64) -> String {
    // What is left when two equal uncertainties cancel but for rounding is no uncertainty.
    if u > 1e-9 * number.abs() {
        return trimmed(rounded(number, warranted_decimals(2.0 * u)));
    }
    significant(number, 5)
}

/// A decimal number without noughts at its end.
fn trimmed(text: String) -> String {
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_string() } else { text }
}

/// A number with so many significant digits, but never rounded above the units.
fn significant(number: f64, digits: u8) -> String {
    let magnitude = if number == 0.0 { 0.0 } else { number.abs().log10().floor() };
    let decimals = (f64::from(digits) - 1.0 - magnitude).clamp(0.0, 9.0) as usize;
    trimmed(rounded(number, decimals))
}

/// A number that is round already, or the round one beside it.
fn round_number(number: f64) -> String {
    let size = number.abs().log10().floor() - 1.0;
    if number == 0.0 || !size.is_finite() {
        return "0".to_string();
    }
    let step = 10f64.powf(size);
    let tenths = number / step * 10.0;
    if (tenths - tenths.round()).abs() < 1e-6 {
        return trimmed(rounded(number, (1.0 - size).clamp(0.0, 9.0) as usize));
    }
    let fives = (number / step / 5.0).round() * 5.0;
    let near = (fives * step - number).abs() <= ROUND_WITHIN * number.abs();
    let digits = if near { fives } else { (number / step).round() };
    trimmed(rounded(digits * step, (-size).clamp(0.0, 9.0) as usize))
}

/// A limit that begins with less than this has two digits. Judgement; one for all numbers, so that one without its
/// limits has the digits that it has with them.
const TWO_BELOW: f64 = 2.5;

/// How many decimals a number with this limit may show: two digits of the limit, or one.
fn warranted_decimals(limit: f64) -> usize {
    if !(limit > 0.0 && limit.is_finite()) {
        return 0;
    }
    let place = limit.log10().floor();
    let leading = limit / 10f64.powf(place);
    let digits = if (TWO_BELOW..9.5).contains(&leading) { 0.0 } else { 1.0 };
    let carried = if leading >= 9.5 { 1.0 } else { 0.0 };
    (digits - place - carried).clamp(0.0, 6.0) as usize
}

/// Rounds to a number of decimals, without a minus before zero.
fn rounded(number: f64, decimals: usize) -> String {
    let text = format!("{number:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_string(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::SourceId;

    #[test]
    fn values_are_shown_in_the_units_of_the_house() {
        let table = [
            (Measure::Pressure, 262_000.8, 0.0, "38 psi", "2.62 bar"),
            (Measure::Pressure, 262_000.8, 4_000.0, "38 psi", "2.62 bar"),
            (Measure::TemperatureChange, 5.0, 0.0, "9 °F", "5 °C"),
            (Measure::Temperature, 293.15, 0.0, "68 °F", "20 °C"),
            (Measure::Volume, 0.0005, 0.0, "1.0567 pt", "500 mL"),
            (Measure::Duration, 90.0, 0.0, "90 s", "90 s"),
            (Measure::Duration, 900.0, 0.0, "15 min", "15 min"),
            (Measure::Number, -0.000_000_1, 2.0, "0", "0"),
            (Measure::Count, 3.0, 0.0, "3", "3"),
        ];
        for (measure, si, u, us, metric) in table {
            let value = Uncertain::exact(si).with_component(SourceId::Reading(1), u);
            assert_eq!(show(measure, &value, Units::Us), us);
            assert_eq!(show(measure, &value, Units::Metric), metric);
        }
    }

    #[test]
    fn times_and_small_volumes_are_shown_in_fitting_units() {
        let times = [
            (119.0, "119 s"),
            (120.0, "2 min"),
            (124.0, "124 s"),
            (150.0, "2.5 min"),
            (7_199.0, "119.98 min"),
            (7_200.0, "2 h"),
        ];
        let long =
            [(172_799.0, "48 h"), (172_800.0, "2 day"), (-90.0, "-90 s"), (-7_200.0, "-2 h"), (0.0, "0 s")];
        for (seconds, expected) in times.into_iter().chain(long) {
            assert_eq!(show(Measure::Duration, &Uncertain::exact(seconds), Units::Us), expected);
        }
        let volumes = [
            (0.0, "0 gal", "0 L"),
            (0.000_9, "0.23775 gal", "900 mL"),
            (0.000_899, "1.8999 pt", "899 mL"),
            (0.001, "0.26417 gal", "1 L"),
            (-0.000_5, "-1.0567 pt", "-500 mL"),
        ];
        for (si, us, metric) in volumes {
            let value = Uncertain::exact(si);
            assert_eq!(show(Measure::Volume, &value, Units::Us), us);
            assert_eq!(show(Measure::Volume, &value, Units::Metric), metric);
        }
    }

    #[test]
    fn no_more_decimals_than_the_limit_warrants() {
        let table = [
            (0.0, 0),
            (-1.0, 0),
            (f64::INFINITY, 0),
            (f64::NAN, 0),
            (1.0, 1),
            (2.4, 1),
            (2.5, 0),
            (9.4, 0),
            (9.5, 0),
            (0.24, 2),
            (0.35, 1),
            (0.94, 1),
            (0.95, 1),
            (0.096, 2),
            (12.0, 0),
            (1e-9, 6),
        ];
        for (limit, decimals) in table {
            assert_eq!(warranted_decimals(limit), decimals, "{limit}");
        }
    }

    /// A limit is shown a tenth too small at most.
    #[test]
    fn no_limit_promises_too_much() {
        let table = [
            (0.344, "38.2 ± 0.4 psi"),
            (0.32, "38.2 ± 0.3 psi"),
            (4.46, "38 ± 5 psi"),
            (0.644, "38.2 ± 0.6 psi"),
        ];
        for (limit, shown) in table {
            let psi = crate::quantity::PSI;
            let value = Uncertain::exact(38.2 * psi).with_component(SourceId::Reading(1), limit / 2.0 * psi);
            assert_eq!(show_with_limits(Measure::Pressure, &value, Units::Us), shown);
        }
    }

    #[test]
    fn zero_has_no_minus_and_other_numbers_keep_theirs() {
        let table =
            [(-0.01, 1, "0.0"), (-0.4, 0, "0"), (-0.0, 2, "0.00"), (-5.0, 0, "-5"), (-0.06, 1, "-0.1")];
        for (number, decimals, expected) in table {
            assert_eq!(rounded(number, decimals), expected);
        }
        let table = [
            (0.0, 3, "0"),
            (1234.5, 3, "1234"),
            (-12.345, 3, "-12.3"),
            (0.012_345, 3, "0.0123"),
            (99.96, 3, "100"),
        ];
        for (number, digits, expected) in table {
            assert_eq!(significant(number, digits), expected);
        }
    }

    /// What has three digits at most stays as it is written; of what has more two are told, the second a 5 or a 0
    /// where that is within 2 %.
    #[test]
    fn round_numbers_stay_and_others_are_told_by_the_round_one_beside_them() {
        let table = [
            (1.25, "1.25"),
            (12.0, "12"),
            (13.0, "13"),
            (51.0, "51"),
            (99.0, "99"),
            (101.0, "101"),
            (0.512_3, "0.51"),
            (0.504, "0.504"),
            (5.171, "5.2"),
            (6.895, "7"),
            (7.929, "8"),
            (1_013.25, "1000"),
            (133.4, "130"),
            (0.000_000_05, "0.00000005"),
            (0.000_000_012_7, "0.000000013"),
        ];
        for (number, expected) in table {
            assert_eq!(round_number(number), expected, "{number}");
        }
        let roundly = |psi: f64| {
            show_roundly(Measure::Pressure, &Uncertain::exact(psi * crate::quantity::PSI), Units::Metric)
        };
        // 0.414 bar, 0.517 bar and 1.034 bar.
        assert_eq!([6.0, 7.5, 15.0].map(roundly), ["0.4 bar", "0.52 bar", "1 bar"]);
    }
}
