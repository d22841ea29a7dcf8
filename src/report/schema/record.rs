//! The JSON Schema of records, made from the tables that tell of their keys.

use serde_json::{Value, json};

use super::{DIALECT, list_of, merge, one_of, text, with_meaning};
use crate::quantity::{Units, Verdict};
use crate::record::{
    ENTRY_KEYS, EntryKind, ForNow, FormatKey, GRADE_WORDS, HEAD_KEYS, Outcome, Phase, Provenance,
    RESULT_KEYS, TEXT_KEYS, TextRole,
};

/// The schema of records, read as TOML, with its date-times as texts. Keys of later versions are allowed.
pub fn record_schema() -> Value {
    let mut root = format_keys(
        HEAD_KEYS,
        &["format", "program", "id", "procedure", "title", "started", "units", "sealed"],
    );
    let entry = format_keys(ENTRY_KEYS, &["n", "kind", "step", "at", "seal"]);
    let result = format_keys(RESULT_KEYS, &["outcome", "at", "words", "seal"]);
    let tables = json!({ "entry": list_of(entry), "result": result });
    if let Some(properties) = root.get_mut("properties") {
        merge(properties, tables);
    }
    merge(&mut root, json!({ "$schema": DIALECT, "title": "tankhand record, format 1" }));
    root
}

fn format_keys(keys: &[FormatKey], required: &[&str]) -> Value {
    let each = keys.iter().map(|key| (key.name.to_string(), with_meaning(format_value(key), key.means)));
    json!({ "type": "object", "properties": Value::Object(each.collect()), "required": required })
}

/// What stands under a key of a record: its words where only some are written, else what TOML calls it.
fn format_value(key: &FormatKey) -> Value {
    match key.name {
        "format" => json!({ "const": 1 }),
        "seal" | "sha256" => json!({ "type": "string", "pattern": "^[0-9a-f]{64}$" }),
        "units" => one_of([Units::Us, Units::Metric].map(Units::name)),
        "kind" => one_of(EntryKind::all().map(EntryKind::word)),
        "phase" => one_of(Phase::all().map(Phase::word)),
        "provenance" => one_of(Provenance::all().map(Provenance::word)),
        "grade" => json!({ "enum": GRADE_WORDS }),
        "for_now" => one_of(ForNow::all().map(ForNow::word)),
        "verdict" => one_of([Verdict::Pass, Verdict::Fail, Verdict::Unsure].map(Verdict::word)),
        "outcome" => one_of([Outcome::Completed, Outcome::Failed, Outcome::Unfinished].map(Outcome::word)),
        "role" => one_of(TextRole::all().map(TextRole::word)),
        "text" if key.takes == "array of tables" => {
            list_of(format_keys(TEXT_KEYS, &["role", "name", "sha256", "text"]))
        }
        "sealed" => format_keys(RESULT_KEYS.last().map_or(&[], std::slice::from_ref), &["seal"]),
        "truth" => json!({
            "type": "object",
            "properties": { "best": { "type": "boolean" }, "least": { "type": "number" }, "most": { "type": "number" } },
            "required": ["best", "least", "most"],
        }),
        _ => toml_type(key.takes),
    }
}

fn toml_type(takes: &str) -> Value {
    match takes {
        "integer" => json!({ "type": "integer" }),
        "float" => json!({ "type": "number" }),
        "boolean" => json!({ "type": "boolean" }),
        "date-time" => json!({ "type": "string", "format": "date-time" }),
        "array of integers" => list_of(json!({ "type": "integer" })),
        "array of strings" => list_of(text()),
        _ => text(),
    }
}
