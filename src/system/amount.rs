//! Reading a number with its unit.

use crate::document::Fields;
use crate::quantity::{Family, Measure, Typed, Unit, Units, Unreadable, read_number, read_with_limit};

/// A number with its unit, turned into SI by `to_si`.
pub(super) fn amount(
    fields: &Fields<'_>,
    key: &str,
    family: Family,
    to_si: impl Fn(&Unit, f64) -> f64,
) -> Option<f64> {
    let typed = typed(fields, key, family, |text| Ok((read_number(text, family)?, None)))?;
    Some(to_si(typed.0, typed.1))
}

/// A measure in SI, with the limit either way within which it is good to, when one is written.
pub(super) fn limited_amount(fields: &Fields<'_>, key: &str, measure: Measure) -> Option<(f64, Option<f64>)> {
    let family = measure.family();
    let (unit, number, limit) = typed(fields, key, family, |text| read_with_limit(text, family))?;
    Some((unit.to_si(measure, number), limit.map(|limit| limit * unit.size)))
}

/// A number with its unit as it is written, and its limit in the same unit.
fn typed(
    fields: &Fields<'_>,
    key: &str,
    family: Family,
    read: impl Fn(&str) -> Result<(Typed, Option<f64>), Unreadable>,
) -> Option<(&'static Unit, f64, Option<f64>)> {
    let text = fields.text_or_number(key)?;
    let mut remedy = format!("write {} with its unit", family.usual().phrase());
    let problem = match read(&text.text) {
        Ok((typed, limit)) => match typed.unit {
            Some(unit) => return Some((unit, typed.number, limit)),
            None => {
                remedy.push_str(&in_quotes(family));
                "the unit is missing".to_string()
            }
        },
        Err(problem) => problem.to_string(),
    };
    let message = format!("`{key}` cannot be read: {problem}");
    fields.walk().none(text.fault("not-a-value", message).remedy(remedy))
}

/// The units of either household, and that the quotes are wanted.
fn in_quotes(family: Family) -> String {
    let unit = |units: Units| units.unit_for(family.usual()).map(|unit| unit.symbol);
    match (unit(Units::Us), unit(Units::Metric)) {
        (Some(us), Some(metric)) if us != metric => format!(" ({us} or {metric}), in quotes"),
        (Some(unit), _) => format!(" ({unit}), in quotes"),
        _ => String::new(),
    }
}
