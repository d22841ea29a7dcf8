//! Reading a number with its unit.

use crate::document::Fields;
use crate::quantity::{Family, Unit, Units, read_number};
use crate::source::Fault;

/// A number with its unit, turned into SI by `to_si`.
pub(super) fn amount(
    fields: &Fields<'_>,
    key: &str,
    family: Family,
    to_si: impl Fn(&Unit, f64) -> f64,
) -> Option<f64> {
    let text = fields.text_or_number(key)?;
    let mut remedy = format!("write {} with its unit", family.usual().phrase());
    let problem = match read_number(&text.text, family) {
        Ok(typed) => match typed.unit {
            Some(unit) => return Some(to_si(unit, typed.number)),
            None => {
                remedy.push_str(&in_quotes(family));
                "the unit is missing".to_string()
            }
        },
        Err(problem) => problem.to_string(),
    };
    fields.walk().fault(
        Fault::new("not-a-value", &text.source, text.span, format!("`{key}` cannot be read: {problem}"))
            .remedy(remedy),
    );
    None
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
