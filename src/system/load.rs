//! Reading a system file.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::amount::limited_amount;
use super::load_gauge::gauges;
use super::paths::{PATHS, PathEntry, PathKind, paths_of};
use super::{System, Tank};
use crate::document::{Fields, read_document, unknown_fault};
use crate::lang::Value;
use crate::quantity::{SourceId, Truth, Uncertain, Units, read_confidence, rectangular_u, show_roundly};
use crate::source::{Fault, Quoted, SourceText};

const LONGEST_SYSTEM_FILE: usize = 256 * 1024;
const TABLES: &[&str] = &["switch", "pump", "relief", "house", "layout"];
const TOP: &[&str] = &["format", "name", "units", "invented", "confidence", "gauge", "tank"];

/// Reads a system file.
///
/// # Errors
/// Every fault found.
///
/// ```
/// use tankhand::source::SourceText;
/// let text = SourceText::new("well.toml", "format = 1\n[switch]\ncut_in = \"40 psi\"\n");
/// let system = tankhand::system::load(&text).unwrap();
/// let cut_in = system.value("switch.cut_in", 0).unwrap();
/// assert_eq!(cut_in.shown(tankhand::quantity::Units::Us), "40 psi");
/// ```
pub fn load(source: &SourceText) -> Result<System, Vec<Fault>> {
    if source.text().len() > LONGEST_SYSTEM_FILE {
        let message = format!("this file is larger than {} KiB", LONGEST_SYSTEM_FILE / 1024);
        let fault = Fault::new("too-long", source, (0..0).into(), message);
        return Err(vec![fault.remedy("see whether it is the right file")]);
    }
    let read = read_document(source, |root| System { text: Some(source.clone()), ..system(root) });
    let (loaded, mut faults) =
        read.map_err(|faults| faults.into_iter().map(with_meaning).collect::<Vec<_>>())?;
    Fault::sort(&mut faults);
    if faults.is_empty() { Ok(loaded) } else { Err(faults) }
}

/// A slip in a line tells what the key of the line means.
fn with_meaning(fault: Fault) -> Fault {
    let text = fault.source.text();
    let before = text.get(..fault.span.start).unwrap_or("");
    let line = before.rsplit('\n').next().unwrap_or("");
    let table = before.lines().rev().find(|line| line.starts_with('[')).unwrap_or("");
    let table = table.trim_matches(|c: char| !c.is_ascii_alphanumeric());
    let key = line.split('=').next().unwrap_or("").trim();
    let path = if table.is_empty() { key.to_string() } else { format!("{table}.{key}") };
    let meaning = PATHS.iter().find(|entry| entry.path == path).map(|entry| {
        format!("`{key}` is: {}. If you do not know it, take the line out: it is asked then.", entry.means)
    });
    match meaning {
        Some(meaning) => fault.why(meaning),
        None => fault,
    }
}

fn system(root: &Fields<'_>) -> System {
    let mut known: Vec<&str> = TOP.iter().chain(TABLES).copied().collect();
    known.extend(keys_of(""));
    root.only(&known);
    root.check_format();
    let units = root.text("units").and_then(|text| units(root, &text));
    let mut values = section(root, "");
    for table in TABLES {
        if let Some(fields) = root.table(table) {
            fields.only(&keys_of(table));
            values.extend(section(&fields, table));
        }
    }
    at_odds(root, &values);
    let tanks = tanks(root);
    if tanks.len() > 1 {
        values.insert("more_tanks", Value::Truth(Truth::certain(true)));
    }
    let sure = "write the probability at which a check may say pass or fail, such as \"90 %\"";
    System {
        name: root.text("name").map(|name| name.text),
        units,
        invented: root.flag("invented"),
        confidence: root.read("confidence", read_confidence, sure),
        tanks,
        gauges: gauges(root),
        values,
        text: None,
    }
}

/// Pairs of values of which the first must be the lower, with what is wrong when it is not.
const ORDERED: &[(&str, &str, &str)] = &[
    ("switch.cut_in", "switch.cut_out", "the pump would start at no lower pressure than it stops at"),
    ("switch.cut_in", "relief.setting", "the relief valve would open before the pump starts"),
    ("coldest", "warmest", "it would be no warmer on the warmest day than on the coldest"),
];

/// Notes values that cannot both be right.
fn at_odds(root: &Fields<'_>, values: &BTreeMap<&'static str, Value>) {
    let amount = |path: &str| values.get(path).and_then(Value::amount).map(Uncertain::value);
    let place = |path: &str| match path.split_once('.') {
        Some((table, key)) => root.table(table).map_or(root.span, |table| table.value_span(key)),
        None => root.value_span(path),
    };
    for (low, high, wrong) in ORDERED {
        if let (Some(a), Some(b)) = (amount(low), amount(high))
            && a >= b
        {
            let fault = root.fault("at-odds", place(high), format!("`{low}` is not below `{high}`"));
            let fault =
                fault.mark(place(low), "this should be the lower").why(format!("As they stand {wrong}."));
            root.walk().fault(fault.remedy("look at the label again, and at the units"));
        }
    }
}

pub(super) fn units(root: &Fields<'_>, text: &Quoted) -> Option<Units> {
    Units::named(&text.text).or_else(|| {
        let fault = text.fault("unknown-word", format!("there are no units `{}`", text.text));
        root.walk().none(fault.remedy("write \"us\" or \"metric\""))
    })
}

/// The keys the table of that name may have.
fn keys_of(table: &str) -> Vec<&'static str> {
    paths_of(table).map(|(_, key)| key).collect()
}

/// The values of one table; `""` is the top of the file.
fn section(fields: &Fields<'_>, table: &str) -> BTreeMap<&'static str, Value> {
    let keys = paths_of(table).filter(|(_, key)| fields.has(key));
    keys.filter_map(|(entry, key)| Some((entry.path, value(fields, key, entry)?))).collect()
}

fn value(fields: &Fields<'_>, key: &str, entry: &PathEntry) -> Option<Value> {
    match entry.kind {
        PathKind::YesNo => Some(Value::Truth(Truth::certain(fields.flag(key)))),
        PathKind::Text => fields.text(key).map(|text| Value::text(&text.text)),
        PathKind::Words(words) => {
            let text = fields.text(key)?;
            if words.contains(&text.text.as_str()) {
                return Some(Value::text(&text.text));
            }
            let message = format!("`{}` cannot stand for `{key}`", text.text.escape_debug());
            fields.walk().none(unknown_fault("unknown-word", &text, message, words.iter().copied()))
        }
        PathKind::Measure(measure) => {
            let (si, limit) = limited_amount(fields, key, measure)?;
            let source = SourceId::limit_at((entry.path, fields.span.start));
            let u = rectangular_u(limit.unwrap_or(0.0));
            let amount = Uncertain::exact(si).with_component(source, u);
            can_be(fields, key, entry, si).then_some(Value::Amount(measure, amount))
        }
    }
}

/// Whether a value lies within what such a thing can be; notes it when not.
fn can_be(fields: &Fields<'_>, key: &str, entry: &PathEntry, si: f64) -> bool {
    let (PathKind::Measure(measure), Some((low, high))) = (entry.kind, entry.between()) else { return true };
    // A hair's breadth of rounding between units is no slip.
    let hair = (high - low) * 1e-9;
    if (low - hair..=high + hair).contains(&si) {
        return true;
    }
    let shown = |si: f64, units: Units| show_roundly(measure, &Uncertain::exact(si), units);
    let range = |units: Units| format!("{} to {}", shown(low, units), shown(high, units));
    let message = format!("`{key}` is outside what can be");
    let why = format!("It is the {}: {}, or {}.", entry.means, range(Units::Us), range(Units::Metric));
    let fault = fields.fault("out-of-range", fields.value_span(key), message).why(why);
    fields.walk().fault(fault.remedy("look at the number, its sign, its decimal point and its unit"));
    false
}

fn tanks(root: &Fields<'_>) -> Vec<Tank> {
    let mut tanks: Vec<Tank> = Vec::new();
    for fields in root.tables("tank") {
        let mut known = keys_of("tank");
        known.push("id");
        fields.only(&known);
        let Some(id) = fields.needed_text("id", "a short name for the tank") else { continue };
        let plain = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_');
        let fine = !id.text.is_empty() && id.text.len() <= 40 && id.text.chars().all(plain);
        if !fine || tanks.iter().any(|tank| tank.id.as_ref() == id.text) {
            let remedy = "use a short word that no other tank has, letters, digits, `-` and `_`";
            root.walk().fault(id.fault("bad-id", "this cannot be the id of a tank").remedy(remedy));
            continue;
        }
        tanks.push(Tank { id: Arc::from(id.text.as_str()), values: section(&fields, "tank") });
    }
    tanks
}
