//! Reading what a person typed: a number with or without a unit.

use thiserror::Error;

use super::{Family, Unit, unit};
use crate::words::{list, near};

/// A number as typed, with the unit if one was typed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Typed {
    /// The number, in `unit`.
    pub number: f64,
    /// The unit; `None` when only a number was typed.
    pub unit: Option<&'static Unit>,
}

/// Why a text is not a number of the wanted family.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum Unreadable {
    /// Nothing was typed.
    #[error("Nothing was typed.")]
    Empty,
    /// No number at its start.
    #[error("`{0}` does not begin with a number.")]
    NoNumber(String),
    /// The comma may part thousands or decimals: both readings.
    #[error("The comma can mean two things here: write {0} or {1}.")]
    Comma(String, String),
    /// The unit is not known; what may have been meant.
    #[error("`{}` is no unit known here{}", .0, perhaps(*.1))]
    UnknownUnit(String, Option<&'static str>),
    /// A unit of another family.
    #[error(
        "{} measures {}, and {} is wanted: {}.",
        .0.symbol,
        .0.family.usual().phrase(),
        .1.usual().phrase(),
        list(&common_units(*.1), "or"),
    )]
    OtherFamily(&'static Unit, Family),
    /// Too large to be meant.
    #[error("`{0}` is too large to be a reading.")]
    TooLarge(String),
}

/// How the sentence on an unknown unit ends.
fn perhaps(meant: Option<&str>) -> String {
    meant.map_or_else(|| ".".to_string(), |known| format!("; did you mean `{known}`?"))
}

/// The units a person is most likely to use, for messages.
fn common_units(family: Family) -> Vec<&'static str> {
    let all = super::UNITS.iter().filter(|u| u.family == family).map(|u| u.symbol);
    all.take(5).collect()
}

/// Reads `38`, `38 psi`, `262kPa`, `2,6 bar`, `1 min 30 s`, `1:30`, `6 ft 2 in`.
///
/// # Errors
/// [`Unreadable`], which says in a sentence what is wrong.
///
/// ```
/// use tankhand::quantity::{Family, read_number};
/// let typed = read_number("2.6 BAR", Family::Pressure).unwrap();
/// assert_eq!((typed.number, typed.unit.unwrap().symbol), (2.6, "bar"));
/// let typed = read_number("1 min 30 s", Family::Time).unwrap();
/// assert_eq!((typed.number, typed.unit.unwrap().symbol), (1.5, "min"));
/// let error = read_number("5 gal", Family::Pressure).unwrap_err();
/// assert_eq!(
///     error.to_string(),
///     "gal measures a volume, and a gauge pressure is wanted: psi, bar, kPa or mbar."
/// );
/// ```
pub fn read_number(text: &str, family: Family) -> Result<Typed, Unreadable> {
    let text = text.trim();
    if text.is_empty() {
        return Err(Unreadable::Empty);
    }
    if let Some(typed) = clock(text).filter(|_| family == Family::Time) {
        return Ok(typed);
    }
    let (number, rest) = leading_number(text)?;
    let (unit_text, after) = match rest.find(|c: char| c.is_ascii_digit()).filter(|&at| splits(rest, at)) {
        Some(at) => (rest[..at].trim(), Some(&rest[at..])),
        None => (rest.trim(), None),
    };
    if unit_text.is_empty() {
        return match after {
            Some(_) => Err(Unreadable::NoNumber(text.to_string())),
            None => Ok(Typed { number, unit: None }),
        };
    }
    let unit = known_unit(unit_text, family)?;
    let more = match after {
        Some(after) => {
            let next = read_number(after, family)?;
            let next_unit = next.unit.ok_or_else(|| Unreadable::NoNumber(text.to_string()))?;
            next.number * next_unit.size / unit.size
        }
        None => 0.0,
    };
    Ok(Typed { number: number + more, unit: Some(unit) })
}

/// Minutes and seconds as a watch shows them: `1:05`.
fn clock(text: &str) -> Option<Typed> {
    let (minutes, seconds) = text.split_once(':')?;
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if minutes.is_empty() || minutes.len() > 3 || seconds.len() != 2 || !digits(minutes) || !digits(seconds) {
        return None;
    }
    let (minutes, seconds): (f64, f64) = (minutes.parse().ok()?, seconds.parse().ok()?);
    (seconds < 60.0).then(|| Typed { number: minutes * 60.0 + seconds, unit: unit("s") })
}

/// Reads a number that may have its limits of error behind it: `80 gal +- 8 %`, `44 gal ± 1 gal`.
/// The limit is given in the number's unit; a bare one counts in it too.
///
/// # Errors
/// As [`read_number`].
///
/// ```
/// use tankhand::quantity::{Family, read_with_limit};
/// let (typed, limit) = read_with_limit("80 gal +- 8 %", Family::Volume).unwrap();
/// assert_eq!((typed.number, typed.unit.unwrap().symbol, limit), (80.0, "gal", Some(6.4)));
/// assert_eq!(read_with_limit("38", Family::Pressure).unwrap().1, None);
/// ```
pub fn read_with_limit(text: &str, family: Family) -> Result<(Typed, Option<f64>), Unreadable> {
    let parted = ["+-", "+/-", "±"].into_iter().find_map(|sign| text.split_once(sign));
    let Some((number, limit)) = parted else { return Ok((read_number(text, family)?, None)) };
    let typed = read_number(number, family)?;
    if let Ok(share) = read_number(limit, Family::Number)
        && let Some(percent) = share.unit
    {
        return Ok((typed, Some((typed.number * share.number * percent.size).abs())));
    }
    let limit = read_number(limit, family)?;
    let size = |unit: Option<&Unit>| unit.map_or(1.0, |unit| unit.size);
    let in_its_unit = limit.unit.map_or(1.0, |unit| unit.size / size(typed.unit.or(Some(unit))));
    Ok((typed, Some((limit.number * in_its_unit).abs())))
}

/// Whether the digit at `at` begins a second number, rather than standing inside a unit (`ft3`).
fn splits(rest: &str, at: usize) -> bool {
    rest[..at].ends_with(char::is_whitespace) && !rest[..at].trim().is_empty()
}

fn known_unit(text: &str, family: Family) -> Result<&'static Unit, Unreadable> {
    match unit(text) {
        Some(found) if found.family == family => Ok(found),
        Some(found) => Err(Unreadable::OtherFamily(found, family)),
        None => {
            let known = super::UNITS.iter().filter(|u| u.family == family).map(|u| u.symbol);
            Err(Unreadable::UnknownUnit(text.to_string(), near(text, known)))
        }
    }
}

/// The number at the start of a text, and the rest.
fn leading_number(text: &str) -> Result<(f64, &str), Unreadable> {
    let unsigned = text.trim_start_matches(['-', '+', '−']);
    let sign_length = text.len() - unsigned.len();
    let digits =
        unsigned.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(unsigned.len());
    let written = unsigned[..digits].trim_end_matches([',', '.']);
    if text[..sign_length].chars().count() > 1 || !written.contains(|c: char| c.is_ascii_digit()) {
        return Err(Unreadable::NoNumber(text.to_string()));
    }
    let plain = without_comma(written)?;
    let value: f64 = plain.parse().map_err(|_| Unreadable::NoNumber(text.to_string()))?;
    if !value.is_finite() || value > 1e12 {
        return Err(Unreadable::TooLarge(written.to_string()));
    }
    let negative = text.starts_with(['-', '−']);
    Ok((if negative { -value } else { value }, &unsigned[digits..]))
}

/// Turns a decimal comma into a point; a comma before exactly three digits could part
/// thousands, so it is not guessed at.
fn without_comma(written: &str) -> Result<String, Unreadable> {
    match written.split_once(',') {
        None => Ok(written.to_string()),
        Some((whole, part)) if part.len() == 3 && !whole.is_empty() && whole != "0" => {
            Err(Unreadable::Comma(format!("{whole}.{part}"), format!("{whole}{part}")))
        }
        Some((whole, part)) => Ok(format!("{whole}.{part}")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(text: &str, family: Family) -> String {
        match read_number(text, family) {
            Ok(typed) => format!("{} {}", typed.number, typed.unit.map_or("-", |u| u.symbol)),
            Err(error) => error.to_string(),
        }
    }

    #[test]
    fn what_owners_type_is_read() {
        use Family::*;
        let table = [
            ("38", Pressure, "38 -"),
            ("38 psi", Pressure, "38 psi"),
            ("262kPa", Pressure, "262 kPa"),
            ("2,6 bar", Pressure, "2.6 bar"),
            ("-5 c", Temperature, "-5 °C"),
            ("68°F", Temperature, "68 °F"),
            ("68 deg F", Temperature, "68 °F"),
            ("44 Gallons", Volume, "44 gal"),
            ("10 imp gal", Volume, "10 imp gal"),
            ("2 ft3", Volume, "2 ft3"),
            ("8 gpm", Flow, "8 gal/min"),
            ("6 ft 2 in", Length, "6.166666666666667 ft"),
            ("1 h 30 min", Time, "1.5 h"),
            ("1:05", Time, "65 s"),
            ("1:65", Time, "`:65` is no unit known here."),
            ("1:05", Pressure, "`:05` is no unit known here."),
            (".5 hp", Power, "0.5 hp"),
            ("38 psi.", Pressure, "`psi.` is no unit known here; did you mean `psi`?"),
            ("1,800 m", Length, "The comma can mean two things here: write 1.800 or 1800."),
            ("--5", Pressure, "`--5` does not begin with a number."),
            ("ten", Pressure, "`ten` does not begin with a number."),
            ("", Pressure, "Nothing was typed."),
            ("38 40", Pressure, "`40` is no unit known here."),
            ("1.2.3", Number, "`1.2.3` does not begin with a number."),
            ("9999999999999", Number, "`9999999999999` is too large to be a reading."),
        ];
        for (text, family, expected) in table {
            assert_eq!(read(text, family), expected, "for `{text}`");
        }
    }

    #[test]
    fn limits_of_error_are_read() {
        let read = |text| match read_with_limit(text, Family::Volume) {
            Ok((typed, limit)) => {
                format!("{} {} {limit:?}", typed.number, typed.unit.map_or("-", |u| u.symbol))
            }
            Err(error) => error.to_string(),
        };
        for (text, expected) in [
            ("44 gal +- 1 gal", "44 gal Some(1.0)"),
            ("44 +/- 1", "44 - Some(1.0)"),
            ("200 L ± 5 %", "200 L Some(10.0)"),
            ("200 L ± -5 %", "200 L Some(10.0)"),
            ("44 gal", "44 gal None"),
            ("44 gal +- ", "Nothing was typed."),
            ("+- 2 gal", "Nothing was typed."),
            (
                "44 gal +- 2 psi",
                "psi measures a gauge pressure, and a volume is wanted: gal, imp gal, L, mL or m3.",
            ),
        ] {
            assert_eq!(read(text), expected, "for `{text}`");
        }
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused_without_panic(text in "\\PC{0,30}") {
            let _ = read_with_limit(&text, Family::Pressure);
        }

        #[test]
        fn a_number_with_any_unit_reads_back(number in -1e6f64..1e6, at in 0..super::super::UNITS.len()) {
            let unit = &super::super::UNITS[at];
            let typed = read_number(&format!("{number} {}", unit.symbol), unit.family).unwrap();
            prop_assert_eq!(typed.number, number);
            prop_assert_eq!(typed.unit.unwrap().symbol, unit.symbol);
        }
    }
}
