//! Reading what a person typed: a number with or without a unit.

use super::unreadable::Unreadable;
use super::written::{NumberPlace, clock_at_start, number_at_start};
use super::{Family, PSI, STANDARD_ATMOSPHERE, Unit, unit};
use crate::words::near;

/// A number as typed, with the unit if one was typed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Typed {
    /// The number, in `unit`.
    pub number: f64,
    /// The unit; `None` when only a number was typed.
    pub unit: Option<&'static Unit>,
}

/// What is a unit only where its kind is asked for; `None` is the unit that a bare number has.
const SPELLED: &[(Family, &[&str], Option<&str>)] = &[
    (Family::Pressure, &["lb", "lbs", "pound", "pounds", "#"], Some("psi")),
    (Family::Time, &["m", "'", "′", "’"], Some("min")),
    (Family::Time, &["\"", "″", "”", "''"], Some("s")),
    (Family::Length, &["'", "′", "’"], Some("ft")),
    (Family::Length, &["\"", "″", "”", "''"], Some("in")),
    (Family::Temperature, &["°", "deg", "degree", "degrees"], None),
];

/// What a number without a unit counts behind one that has this unit: `6 ft 2`, `1 min 26`.
const SMALLER: &[(&str, &str)] = &[("ft", "in"), ("lb", "oz"), ("day", "h"), ("h", "min"), ("min", "s")];

/// Reads `38`, `38 psi`, `262kPa`, `2,6 bar`, `1/2 hp`, `50 ½"`, `1 min 30 s`, `1 min 30`, `1:30`, `6 ft 2 in`.
///
/// # Errors
/// [`Unreadable`], which says in a sentence what is wrong.
///
/// ```
/// use tankhand::quantity::{Family, read_number};
/// let typed = read_number("2.6 BAR", Family::Pressure).unwrap();
/// assert_eq!((typed.number, typed.unit.unwrap().symbol), (2.6, "bar"));
/// let typed = read_number("1 min 30", Family::Time).unwrap();
/// assert_eq!((typed.number, typed.unit.unwrap().symbol), (90.0, "s"));
/// let typed = read_number("3-1/2\"", Family::Length).unwrap();
/// assert_eq!((typed.number, typed.unit.unwrap().symbol), (3.5, "in"));
/// let error = read_number("5 gal", Family::Pressure).unwrap_err();
/// assert_eq!(
///     error.to_string(),
///     "gal measures a volume, and a gauge pressure is wanted: psi, bar, kPa, mbar or MPa."
/// );
/// ```
pub fn read_number(text: &str, family: Family) -> Result<Typed, Unreadable> {
    let text = text.trim();
    if text.is_empty() {
        return Err(Unreadable::Empty);
    }
    let unsigned = text.strip_prefix(['-', '+', '−', '–']).unwrap_or(text).trim_start();
    let sign = if text.starts_with(['-', '−', '–']) { -1.0 } else { 1.0 };
    if let Some((seconds, length)) = clock_at_start(unsigned).filter(|_| family == Family::Time)
        && length == unsigned.len()
    {
        return Ok(Typed { number: sign * seconds, unit: unit("s") });
    }
    let found = number_at_start(unsigned, NumberPlace::Alone)?;
    let (number, length) = found.ok_or_else(|| {
        let digits = unsigned.starts_with(|first: char| first.is_ascii_digit());
        if digits { Unreadable::Marks(text.to_string()) } else { Unreadable::NoNumber(text.to_string()) }
    })?;
    let rest = unsigned[length..].trim();
    if is_second(rest) {
        return Err(Unreadable::Two(text.to_string()));
    }
    if rest.starts_with(':') {
        return Err(Unreadable::Clock(text.to_string(), family));
    }
    let split = rest.char_indices().find(|(at, c)| c.is_ascii_digit() && splits(&rest[..*at]));
    let (unit_text, after) = split.map_or((rest, None), |(at, _)| (rest[..at].trim(), Some(&rest[at..])));
    let unit = known_unit(unit_text, family, text, number)?;
    match (after, unit) {
        (None, _) => Ok(Typed { number: sign * number, unit }),
        (Some(_), None) => Err(Unreadable::Two(text.to_string())),
        (Some(after), Some(first)) => {
            let (part, second) = second_part(after, first, text)?;
            // A time is whole in its smaller unit, as on a watch: 86 s, not 1.4333 min.
            let (whole, into) = match family == Family::Time {
                true => (part + number * first.size / second.size, second),
                false => (number + part * second.size / first.size, first),
            };
            Ok(Typed { number: sign * whole, unit: Some(into) })
        }
    }
}

/// Whether what stands behind a number is another: `30/50`, `38-40`, `38 40`, `38 to 40`.
fn is_second(rest: &str) -> bool {
    let joined = rest.strip_prefix(['/', '-', '–', '−']).or_else(|| rest.strip_prefix("to "));
    joined.unwrap_or(rest).trim_start().starts_with(|c: char| c.is_ascii_digit())
}

/// Whether a digit behind `before` begins a second number, rather than standing inside a unit (`ft3`).
fn splits(before: &str) -> bool {
    !before.trim().is_empty()
        && before.ends_with(|c: char| c.is_whitespace() || !c.is_alphabetic())
        && !before.ends_with('/')
}

/// The second number of `6 ft 2 in` with its unit; without one it counts the next smaller.
fn second_part(after: &str, first: &Unit, text: &str) -> Result<(f64, &'static Unit), Unreadable> {
    let next = read_number(after, first.family)?;
    let smaller = SMALLER.iter().find(|(larger, _)| *larger == first.symbol);
    let usual = smaller.and_then(|(_, smaller)| unit(smaller));
    let unit = next.unit.or(usual).ok_or_else(|| Unreadable::SecondUnit(text.to_string()))?;
    if !unit.divides(first, next.number) {
        return Err(Unreadable::Two(text.to_string()));
    }
    Ok((next.number, unit))
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
        if typed.unit.is_some_and(|unit| unit.family == Family::Number) {
            let of = |part: f64| super::show_number(part * share.number * percent.size, 0.0);
            return Err(Unreadable::PercentOfPercent(of(typed.number * percent.size), of(1.0)));
        }
        return Ok((typed, Some((typed.number * share.number * percent.size).abs())));
    }
    let limit = read_number(limit, family)?;
    let size = |unit: Option<&Unit>| unit.map_or(1.0, |unit| unit.size);
    let in_its_unit = limit.unit.map_or(1.0, |unit| unit.size / size(typed.unit.or(Some(unit))));
    Ok((typed, Some((limit.number * in_its_unit).abs())))
}

/// Reads two numbers that belong together, such as cut-in and cut-out on a switch: `30/50`, `30-50 psi`,
/// `2,1 to 3,4 bar`. A unit behind the second counts for both.
///
/// # Errors
/// As [`read_number`]; [`Unreadable::NoNumber`] when there is only one.
///
/// ```
/// use tankhand::quantity::{Family, read_pair};
/// let pair = read_pair("30/50 psi", Family::Pressure).unwrap();
/// assert_eq!(pair.map(|typed| (typed.number, typed.unit.unwrap().symbol)), [(30.0, "psi"), (50.0, "psi")]);
/// ```
pub fn read_pair(text: &str, family: Family) -> Result<[Typed; 2], Unreadable> {
    let first = text.trim();
    if first.is_empty() {
        return Err(Unreadable::Empty);
    }
    let skip = first.len() - first.trim_start_matches(['-', '−', '–', '+']).len();
    let parted = ["/", " to ", "–", "-", " and "].into_iter().find_map(|between| {
        let at = first[skip..].find(between)? + skip;
        Some((&first[..at], &first[at + between.len()..]))
    });
    let (low, high) = parted.ok_or_else(|| Unreadable::Single(first.to_string()))?;
    let (low, high) = (read_number(low, family)?, read_number(high, family)?);
    Ok([Typed { unit: low.unit.or(high.unit), ..low }, high])
}

/// The unit a text names where this family is asked for; `None` for the one that a bare number has.
fn known_unit(
    text: &str,
    family: Family,
    whole: &str,
    number: f64,
) -> Result<Option<&'static Unit>, Unreadable> {
    let text = text.strip_suffix(['.', ',']).unwrap_or(text).trim_end();
    if text.is_empty() {
        return Ok(None);
    }
    let same = |writing: &&str| writing.eq_ignore_ascii_case(text);
    if let Some((.., meant)) = SPELLED.iter().find(|(of, ways, _)| *of == family && ways.iter().any(same)) {
        return Ok(meant.and_then(unit));
    }
    match unit(text) {
        Some(found) if found.family == family => return Ok(Some(found)),
        Some(found) => return Err(Unreadable::OtherFamily(found, family)),
        None => {}
    }
    if let Some(found) = from_vacuum(text).filter(|_| family == Family::Pressure) {
        return Err(Unreadable::FromVacuum(whole.to_string(), on_a_gauge(number, found)));
    }
    let known = super::UNITS.iter().filter(|u| u.family == family).map(|u| u.symbol);
    Err(Unreadable::UnknownUnit(text.to_string(), near(text, known)))
}

/// The unit of `psia`, `bar abs`, `kPa(a)`.
pub(crate) fn from_vacuum(text: &str) -> Option<&'static Unit> {
    let text = text.to_lowercase();
    let endings = ["a", "(a)", " abs", " absolute", "(abs)"];
    let known = |bare: &str| unit(bare.trim_end()).filter(|unit| unit.family == Family::Pressure);
    endings.into_iter().find_map(|ending| known(text.strip_suffix(ending)?))
}

/// What a gauge at sea level shows of a pressure above vacuum: 14.696 psi less, the standard
/// atmosphere (101 325 Pa, NIST SP 811 App. B.8).
pub(crate) fn on_a_gauge(number: f64, unit: &Unit) -> String {
    let gauge = number - STANDARD_ATMOSPHERE / unit.size;
    let shown = if unit.size >= PSI / 10.0 && unit.size <= PSI { 1 } else { 2 };
    format!("{gauge:.shown$} {}", unit.symbol)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

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
            ("44 gal +- 1 qt", "44 gal Some(0.25)"),
            ("200 qt +- 1 gal", "200 qt Some(4.0)"),
            ("44 gal", "44 gal None"),
            ("44 gal +- ", "Nothing was typed."),
            ("+- 2 gal", "Nothing was typed."),
            (
                "44 gal +- 2 psi",
                "psi measures a gauge pressure, and a volume is wanted: gal, L, mL, qt or fl oz.",
            ),
        ] {
            assert_eq!(read(text), expected, "for `{text}`");
        }
    }

    #[test]
    fn a_limit_in_percent_of_a_percentage_is_asked_for_again() {
        assert_eq!(
            read_with_limit("50 % +- 8 %", Family::Number).unwrap_err().to_string(),
            "The limit of a percentage can mean two things here: write +- 0.04 for the share, or +- 0.08 for the points."
        );
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
