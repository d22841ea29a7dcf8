//! JSON Schemas of procedure and system files, made from the same tables that read them, so that
//! an editor completes and marks keys; and of records, for programs that read them.

mod record;

pub use record::record_schema;

use serde_json::{Map, Value, json};

use crate::procedure::{
    FACT_KEYS, FILE_KEYS, HAZARDS, Key, OBSERVABLES, PART_KEYS, STATE_KEYS, STEP_KEYS, Takes, VERBS, Verb,
    gauges,
};
use crate::quantity::{CONFIDENCES, Kind, Measure, Units};
use crate::system::{COMMON_GAUGES, GAUGE_KEYS, GAUGE_KINDS, GRADES, PATHS, PathKind, Reads};

/// The dialect the schemas are written in.
const DIALECT: &str = "https://json-schema.org/draft/2020-12/schema";

/// The schema of procedure files and parts.
pub fn procedure_schema() -> Value {
    let tables = json!({
        "fact": list_of(table(FACT_KEYS)),
        "state": list_of(table(STATE_KEYS)),
        "step": takes(Takes::Steps),
    });
    let keys = [FILE_KEYS, PART_KEYS].concat();
    let mut properties = properties(&keys);
    merge(&mut properties, tables);
    let mut whole = closed(properties, &needed(&keys));
    let title = "tankhand procedure, format 1";
    merge(&mut whole, json!({ "$schema": DIALECT, "title": title, "$defs": { "step": step() } }));
    whole
}

/// The schema of system files.
pub fn system_schema() -> Value {
    let mut root = json!({
        "format": { "const": 1 },
        "name": { "type": "string", "description": "what the owner calls the installation" },
        "units": { "enum": [Units::Us.name(), Units::Metric.name()] },
        "invented": { "type": "boolean", "description": "made up, for a demonstration" },
        "confidence": with_meaning(confidence(), "the probability from which checks say pass or fail"),
        "gauge": list_of(gauge()),
    });
    let mut tables: Map<String, Value> = Map::new();
    for entry in PATHS {
        let value = with_meaning(path_value(entry.kind), entry.means);
        match entry.path.split_once('.') {
            None => merge(&mut root, json!({ entry.path: value })),
            Some((table, key)) => {
                let keys = tables.entry(table).or_insert_with(|| json!({}));
                merge(keys, json!({ key: value }));
            }
        }
    }
    for (table, mut keys) in tables {
        let tank = table == "tank";
        if tank {
            merge(&mut keys, json!({ "id": with_meaning(text(), "a short name, used by --tank") }));
        }
        let whole = if tank { list_of(closed(keys, &["id"])) } else { closed(keys, &[]) };
        merge(&mut root, json!({ table: whole }));
    }
    let mut whole = closed(root, &["format"]);
    merge(&mut whole, json!({ "$schema": DIALECT, "title": "tankhand system file, format 1" }));
    whole
}

/// A step: a verb is needed, and with it its own keys are allowed, those of others are not. A slip is
/// so marked at its key, not as a step that fits nowhere.
fn step() -> Value {
    let verbs = VERBS.iter().map(|verb| (verb.word(), verb.sentence));
    let keys =
        STEP_KEYS.iter().chain(VERBS.iter().flat_map(|verb| verb.keys)).map(|key| (key.name, key.means));
    // What each key means, whatever the verb: editors show it.
    let described = keys.chain(verbs).map(|(name, means)| {
        (name.to_string(), json!({ "description": means, "additionalProperties": true }))
    });
    let needed = VERBS.iter().map(|verb| json!({ "required": [verb.word()] }));
    let with_verb = |verb: &Verb| {
        let keys: Vec<Key> = std::iter::once(&verb.key).chain(STEP_KEYS).chain(verb.keys).copied().collect();
        let mut then = table(&keys);
        merge(&mut then, json!({ "title": verb.word() }));
        json!({ "if": { "required": [verb.word()] }, "then": then })
    };
    json!({
        "type": "object",
        "properties": Value::Object(described.collect()),
        "additionalProperties": true,
        "anyOf": needed.collect::<Vec<_>>(),
        "allOf": VERBS.iter().map(with_verb).collect::<Vec<_>>(),
    })
}

/// An object with these properties and no others.
fn closed(properties: Value, required: &[&str]) -> Value {
    json!({
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    })
}

/// A table of these keys and no others.
fn table(keys: &[Key]) -> Value {
    closed(properties(keys), &needed(keys))
}

/// The keys that must be there.
fn needed(keys: &[Key]) -> Vec<&'static str> {
    keys.iter().filter(|key| key.needed).map(|key| key.name).collect()
}

fn properties(keys: &[Key]) -> Value {
    let each = keys.iter().map(|key| (key.name.to_string(), with_meaning(takes(key.takes), key.means)));
    Value::Object(each.collect())
}

fn takes(what: Takes) -> Value {
    match what {
        Takes::Text | Takes::Part | Takes::Word | Takes::Template | Takes::Expression | Takes::PassedKind => {
            text()
        }
        Takes::Flag => json!({ "type": "boolean" }),
        Takes::Whole(low, high) => json!({ "type": "integer", "minimum": low, "maximum": high }),
        Takes::Confidence => confidence(),
        Takes::Limits => json!({ "type": "array", "items": text(), "minItems": 2, "maxItems": 2 }),
        Takes::Measure => one_of(Measure::all().map(Measure::name)),
        Takes::Kind => one_of(Kind::names()),
        Takes::OneOf(words) => one_of(words.iter().copied()),
        Takes::Gauge => one_of(gauges().into_iter().map(|(name, _)| name)),
        Takes::Observable => one_of(OBSERVABLES.iter().map(|known| known.name)),
        Takes::Hazard => one_of(HAZARDS.iter().map(|hazard| hazard.id)),
        Takes::Steps => list_of(json!({ "$ref": "#/$defs/step" })),
        Takes::List(each, least) => json!({ "type": "array", "items": takes(*each), "minItems": least }),
        Takes::Names(each) => json!({ "type": "object", "additionalProperties": takes(*each) }),
        Takes::Table(keys) => table(keys),
        Takes::Either(each) => either(each),
    }
}

fn text() -> Value {
    json!({ "type": "string" })
}

fn one_of<'w>(words: impl IntoIterator<Item = &'w str>) -> Value {
    json!({ "enum": words.into_iter().collect::<Vec<_>>() })
}

fn confidence() -> Value {
    json!({ "type": ["number", "string"], "minimum": CONFIDENCES.start(), "maximum": CONFIDENCES.end() })
}

/// What may be of several types, each with what holds for it. Of several tables one may have the keys of all, so
/// that a slip is marked at its key.
fn either(each: &[Takes]) -> Value {
    let tables: Vec<&[Key]> =
        each.iter().filter_map(|one| if let Takes::Table(keys) = one { Some(*keys) } else { None }).collect();
    let one_of_them = match tables.as_slice() {
        [] => None,
        [keys] => Some(table(keys)),
        several => Some(closed(properties(&several.concat()), &[])),
    };
    let others = each.iter().filter(|one| !matches!(one, Takes::Table(_))).map(|one| takes(*one));
    let (mut types, mut then) = (Vec::new(), Vec::new());
    for schema in others.chain(one_of_them) {
        let of = schema.get("type").cloned().unwrap_or_else(|| json!("string"));
        then.push(json!({ "if": { "type": of }, "then": schema }));
        types.push(of);
    }
    json!({ "type": types, "allOf": then })
}

fn path_value(kind: PathKind) -> Value {
    match kind {
        PathKind::Measure(_) | PathKind::Text => text(),
        PathKind::YesNo => json!({ "type": "boolean" }),
        PathKind::Words(words) => json!({ "enum": words }),
    }
}

fn gauge() -> Value {
    let value = |key: &str| match key {
        "id" => one_of(COMMON_GAUGES.iter().map(|gauge| &*gauge.id)),
        "kind" => one_of(GAUGE_KINDS.iter().map(|gauge| &*gauge.id)),
        "grade" => one_of(GRADES.iter().map(|grade| grade.name)),
        "reads" => json!({ "enum": Reads::WORDS }),
        _ => text(),
    };
    let keys = GAUGE_KEYS.iter().map(|(key, means)| (key.to_string(), with_meaning(value(key), means)));
    closed(Value::Object(keys.collect()), &["id"])
}

fn list_of(items: Value) -> Value {
    json!({ "type": "array", "items": items })
}

fn with_meaning(mut value: Value, means: &str) -> Value {
    merge(&mut value, json!({ "description": means }));
    value
}

/// Adds the members of one object to another.
fn merge(into: &mut Value, more: Value) {
    if let (Value::Object(into), Value::Object(more)) = (into, more) {
        into.extend(more);
    }
}
