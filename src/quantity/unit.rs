//! The one table of units: symbol, spellings, family, size.

use std::sync::LazyLock;

use super::Family;

/// One unit of measure.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// How the program writes it.
    pub symbol: &'static str,
    /// How a person may type it, the symbol aside.
    pub spellings: &'static [&'static str],
    /// What it measures.
    pub family: Family,
    /// How many SI units one of it is.
    pub size: f64,
    /// SI value of its zero, for points on a scale (273.15 for °C); 0 for all others.
    pub zero: f64,
    /// What it is, in a few words.
    pub name: &'static str,
}

const fn unit_of(
    symbol: &'static str,
    spellings: &'static [&'static str],
    family: Family,
    size: f64,
    name: &'static str,
) -> Unit {
    Unit { symbol, spellings, family, size, zero: 0.0, name }
}

/// Cubic metres in a US gallon, exact by definition (231 in³): NIST SP 811 App. B.8.
pub const GALLON: f64 = 3.785_411_784e-3;
/// Cubic metres in an imperial gallon, exact: NIST SP 811 App. B.8.
const IMPERIAL_GALLON: f64 = 4.546_09e-3;
/// Pascals in a pound-force per square inch: 0.453 592 37 kg × 9.806 65 m/s² / (0.0254 m)².
pub const PSI: f64 = 6_894.757_293_168_361;
/// A gallon a minute in m³/s.
pub const GPM: f64 = GALLON / 60.0;
/// A horsepower of 550 foot-pounds a second in watts.
pub const HORSEPOWER: f64 = 745.699_871_582_270_2;
/// Pascals in a standard atmosphere, exact by definition: NIST SP 811 App. B.8.
pub(crate) const STANDARD_ATMOSPHERE: f64 = 101_325.0;
/// Kilograms in a pound, exact: NIST SP 811 App. B.8.
pub(crate) const POUND: f64 = 0.453_592_37;
/// Seconds in an hour.
pub(crate) const HOUR: f64 = 3_600.0;
/// Seconds in a day.
pub(crate) const DAY: f64 = 24.0 * HOUR;
/// Seconds in the mean year of the calendar, which leaps 97 times in 400 years.
pub(crate) const YEAR: f64 = 365.242_5 * DAY;
/// Kelvin in a degree Fahrenheit.
const FAHRENHEIT: f64 = 5.0 / 9.0;

/// Every unit. Factors: NIST SP 811 (2008), Appendix B.8.
pub static UNITS: &[Unit] = &[
    unit_of("psi", &["psig", "lb/in2", "lbs/in2"], Family::Pressure, PSI, "pound-force per square inch"),
    unit_of("bar", &["barg"], Family::Pressure, 1e5, "bar"),
    unit_of("kPa", &[], Family::Pressure, 1e3, "kilopascal"),
    unit_of("mbar", &[], Family::Pressure, 100.0, "millibar"),
    unit_of("MPa", &[], Family::Pressure, 1e6, "megapascal"),
    unit_of(
        "kgf/cm2",
        &["kg/cm2", "kgf/cm²", "kg/cm²"],
        Family::Pressure,
        98_066.5,
        "kilogram-force per square centimetre",
    ),
    Unit {
        symbol: "°F",
        spellings: &["F", "degF", "deg F", "fahrenheit"],
        family: Family::Temperature,
        size: FAHRENHEIT,
        zero: 459.67 * FAHRENHEIT,
        name: "degree Fahrenheit",
    },
    Unit {
        symbol: "°C",
        spellings: &["C", "degC", "deg C", "celsius"],
        family: Family::Temperature,
        size: 1.0,
        zero: 273.15,
        name: "degree Celsius",
    },
    unit_of("K", &["kelvin"], Family::Temperature, 1.0, "kelvin"),
    unit_of("gal", &["gallon", "gallons", "US gal"], Family::Volume, GALLON, "US gallon"),
    unit_of("L", &["litre", "litres", "liter", "liters"], Family::Volume, 1e-3, "litre"),
    unit_of(
        "mL",
        &["millilitre", "millilitres", "milliliter", "milliliters"],
        Family::Volume,
        1e-6,
        "millilitre",
    ),
    unit_of("qt", &["quart", "quarts"], Family::Volume, GALLON / 4.0, "US quart"),
    unit_of(
        "fl oz",
        &["floz", "fluid ounce", "fluid ounces"],
        Family::Volume,
        GALLON / 128.0,
        "US fluid ounce",
    ),
    unit_of("cup", &["cups"], Family::Volume, GALLON / 16.0, "US cup"),
    unit_of("pt", &["pint", "pints"], Family::Volume, GALLON / 8.0, "US pint"),
    unit_of(
        "imp gal",
        &[
            "impgal",
            "imperial gal",
            "imperial gallon",
            "imperial gallons",
            "UK gal",
            "UK gallon",
            "UK gallons",
        ],
        Family::Volume,
        IMPERIAL_GALLON,
        "imperial gallon",
    ),
    unit_of("m3", &["m³"], Family::Volume, 1.0, "cubic metre"),
    unit_of("ft3", &["ft³", "cubic foot", "cubic feet"], Family::Volume, 0.028_316_846_592, "cubic foot"),
    unit_of("gal/min", &["gpm", "gallons per minute"], Family::Flow, GPM, "US gallon per minute"),
    unit_of("gal/h", &["gph"], Family::Flow, GALLON / HOUR, "US gallon per hour"),
    unit_of(
        "imp gal/min",
        &["impgal/min", "UK gal/min"],
        Family::Flow,
        IMPERIAL_GALLON / 60.0,
        "imperial gallon per minute",
    ),
    unit_of("L/min", &["lpm"], Family::Flow, 1e-3 / 60.0, "litre per minute"),
    unit_of("L/s", &["lps"], Family::Flow, 1e-3, "litre per second"),
    unit_of("L/h", &["lph"], Family::Flow, 1e-3 / HOUR, "litre per hour"),
    unit_of("m3/h", &["m³/h"], Family::Flow, 1.0 / HOUR, "cubic metre per hour"),
    unit_of("ft", &["foot", "feet"], Family::Length, 0.3048, "foot"),
    unit_of("in", &["inch", "inches"], Family::Length, 0.0254, "inch"),
    unit_of("m", &["metre", "metres", "meter", "meters"], Family::Length, 1.0, "metre"),
    unit_of("cm", &[], Family::Length, 0.01, "centimetre"),
    unit_of("mm", &[], Family::Length, 0.001, "millimetre"),
    unit_of("lb", &["lbs", "pound", "pounds"], Family::Mass, POUND, "pound"),
    unit_of("oz", &["ounce", "ounces"], Family::Mass, POUND / 16.0, "ounce"),
    unit_of("kg", &["kilogram", "kilograms"], Family::Mass, 1.0, "kilogram"),
    unit_of("g", &["gram", "grams"], Family::Mass, 1e-3, "gram"),
    unit_of("hp", &["horsepower"], Family::Power, HORSEPOWER, "horsepower"),
    unit_of("kW", &["kilowatt", "kilowatts"], Family::Power, 1e3, "kilowatt"),
    unit_of("W", &["watt", "watts"], Family::Power, 1.0, "watt"),
    unit_of("s", &["sec", "secs", "second", "seconds"], Family::Time, 1.0, "second"),
    unit_of("min", &["mins", "minute", "minutes"], Family::Time, 60.0, "minute"),
    unit_of("h", &["hr", "hrs", "hour", "hours"], Family::Time, HOUR, "hour"),
    unit_of("day", &["d", "days"], Family::Time, DAY, "day"),
    unit_of("mL/L", &[], Family::Concentration, 1e-3, "millilitre per litre"),
    unit_of("mg/L", &["ppm"], Family::MassConcentration, 1e-3, "milligram per litre"),
    unit_of("%", &["percent", "per cent"], Family::Number, 0.01, "per cent"),
];

impl Unit {
    /// Every way to write it, the symbol first.
    fn writings(&self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.symbol).chain(self.spellings.iter().copied())
    }

    /// Whether so many of these can stand behind a whole number of a larger unit: less than one of it.
    ///
    /// ```
    /// use tankhand::quantity::unit;
    /// let (foot, inch) = (unit("ft").unwrap(), unit("in").unwrap());
    /// assert!(inch.divides(foot, 11.5));
    /// assert!(!inch.divides(foot, 12.0));
    /// assert!(!foot.divides(inch, 0.5));
    /// ```
    pub fn divides(&self, larger: &Unit, count: f64) -> bool {
        // Twelve inches are a hair less than a foot, as their sizes are kept.
        let rounding = 1.0 - 1e-9;
        self.family == larger.family && self.size < larger.size && count * self.size < larger.size * rounding
    }
}

/// The unit a person means by `text`: as written, else in any case where only one fits.
///
/// ```
/// use tankhand::quantity::unit;
/// assert_eq!(unit("PSI").unwrap().symbol, "psi");
/// assert_eq!(unit("f").unwrap().symbol, "°F");
/// assert!(unit("furlong").is_none());
/// ```
pub fn unit(text: &str) -> Option<&'static Unit> {
    let text = text.trim();
    let by = |same: fn(&str, &str) -> bool| UNITS.iter().find(|u| u.writings().any(|w| same(w, text)));
    by(|a, b| a == b).or_else(|| by(|a, b| a.to_lowercase() == b.to_lowercase()))
}

/// Every writing with its unit, under the byte it begins with.
static BY_FIRST_BYTE: LazyLock<[Vec<(&Unit, &str)>; 256]> = LazyLock::new(|| {
    let mut shelves = [const { Vec::new() }; 256];
    for (unit, writing) in UNITS.iter().flat_map(|u| u.writings().map(move |w| (u, w))) {
        shelves[usize::from(writing.as_bytes()[0])].push((unit, writing));
    }
    shelves
});

/// The longest unit, as the table writes it or else in any case, that `text` starts with and that ends at a word's
/// end; with its length in bytes.
///
/// ```
/// use tankhand::quantity::unit_at_start;
/// assert_eq!(unit_at_start("gal/min * 2").unwrap().1, 7);
/// assert_eq!(unit_at_start("gallant"), None);
/// ```
pub fn unit_at_start(text: &str) -> Option<(&'static Unit, usize)> {
    let ends_word = |length: usize, writing: &str| {
        let next = text[length..].chars().next();
        writing.ends_with('%') || !next.is_some_and(|c| c.is_alphanumeric() || c == '_')
    };
    let first = *text.as_bytes().first()?;
    let as_written = BY_FIRST_BYTE[usize::from(first)]
        .iter()
        .filter(|(_, w)| text.starts_with(w) && ends_word(w.len(), w))
        .map(|(u, w)| (*u, w.len()))
        .max_by_key(|(_, length)| *length);
    let in_any_case = |w: &str| text.get(..w.len()).is_some_and(|start| start.eq_ignore_ascii_case(w));
    let letter = text.starts_with(char::is_alphabetic);
    as_written.or_else(|| {
        UNITS
            .iter()
            .flat_map(|u| u.writings().map(move |w| (u, w)))
            .filter(|(_, w)| letter && in_any_case(w) && ends_word(w.len(), w))
            .map(|(u, w)| (u, w.len()))
            .max_by_key(|(_, length)| *length)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_writing_means_two_units_in_any_case() {
        let mut seen = std::collections::HashMap::new();
        for u in UNITS {
            for w in u.writings() {
                if let Some(other) = seen.insert(w.to_lowercase(), u.symbol) {
                    assert_eq!(other, u.symbol, "`{w}` is ambiguous");
                }
            }
        }
    }

    /// Factors of NIST SP 811 (2008) App. B.8, as confirmed with Pint 0.25.3.
    #[test]
    fn factors_agree_with_nist_sp_811() {
        let published = [
            ("psi", 6_894.757),
            ("gal", 3.785_412e-3),
            ("imp gal", 4.546_09e-3),
            ("ft3", 2.831_685e-2),
            ("qt", 9.463_529e-4),
            ("fl oz", 2.957_353e-5),
            ("cup", 2.365_882e-4),
            ("kgf/cm2", 9.806_65e4),
            ("lb", 0.453_592_37),
            ("hp", 745.699_9),
            ("in", 0.0254),
        ];
        for (symbol, factor) in published {
            let size = unit(symbol).expect(symbol).size;
            assert!((size / factor - 1.0).abs() < 5e-7, "{symbol}: {size} against {factor}");
        }
    }
}
