//! JSON Schemas of procedure and system files, made from the same tables that read them, so that
//! an editor completes and marks keys; and of records, for programs that read them.

mod record;

pub use record::record_schema;

use serde_json::{Map, Value, json};

use crate::procedure::{
    FACT_KEYS, FILE_KEYS, HAZARDS, Key, OBSERVABLES, PART_KEYS, STATE_KEYS, STEP_KEYS, Takes, VERBS, Verb,
    gauges,
};
use crate::quantity::{Kind, Measure, Units};
use crate::system::{COMMON_GAUGES, GAUGE_KEYS, GAUGE_KINDS, GRADES, Gauge, PATHS, PathKind, Reads};

/// The dialect the schemas are written in.
const DIALECT: &str = "https://json-schema.org/draft/2020-12/schema";

/// The schema of procedure files and parts.
pub fn procedure_schema() -> Value {
    let tables = json!({
        "fact": list_of(object(FACT_KEYS, &["id", "kind", "ask"])),
        "state": list_of(object(STATE_KEYS, &["id", "means"])),
        "step": { "type": "array", "items": { "$ref": "#/$defs/step" } },
    });
    let mut properties = properties(&[FILE_KEYS, PART_KEYS].concat());
    merge(&mut properties, tables);
    json!({
        "$schema": DIALECT,
        "title": "tankhand procedure, format 1",
        "type": "object",
        "properties": properties,
        "required": ["format", "title", "purpose"],
        "additionalProperties": false,
        "$defs": { "step": step() },
    })
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
            merge(
                &mut keys,
                json!({ "id": { "type": "string", "description": "a short name, used by --tank" } }),
            );
        }
        let required: &[&str] = if tank { &["id"] } else { &[] };
        let whole = json!({ "type": "object", "properties": keys, "required": required, "additionalProperties": false });
        merge(&mut root, json!({ table: if tank { list_of(whole) } else { whole } }));
    }
    json!({
        "$schema": DIALECT,
        "title": "tankhand system file, format 1",
        "type": "object",
        "properties": root,
        "required": ["format"],
        "additionalProperties": false,
    })
}

/// A step: a verb is needed, and with it its own keys are allowed, those of others are not. A slip is
/// so marked at its key, not as a step that fits nowhere.
fn step() -> Value {
    let verbs = VERBS.iter().map(|verb| (verb.word(), verb.sentence));
    let keys =
        STEP_KEYS.iter().chain(VERBS.iter().flat_map(|verb| verb.keys)).map(|key| (key.name, key.means));
    // What each key means, whatever the verb: editors show it.
    let told = keys.chain(verbs).map(|(name, means)| {
        (name.to_string(), json!({ "description": means, "additionalProperties": true }))
    });
    let needed = VERBS.iter().map(|verb| json!({ "required": [verb.word()] }));
    let with_verb = |verb: &Verb| {
        let keys: Vec<Key> = std::iter::once(&verb.key).chain(STEP_KEYS).chain(verb.keys).copied().collect();
        let mut then = object(&keys, &[]);
        merge(&mut then, json!({ "title": verb.word() }));
        json!({ "if": { "required": [verb.word()] }, "then": then })
    };
    json!({
        "type": "object",
        "properties": Value::Object(told.collect()),
        "additionalProperties": true,
        "anyOf": needed.collect::<Vec<_>>(),
        "allOf": VERBS.iter().map(with_verb).collect::<Vec<_>>(),
    })
}

fn object(keys: &[Key], required: &[&str]) -> Value {
    json!({
        "type": "object",
        "properties": properties(keys),
        "required": required,
        "additionalProperties": false,
    })
}

fn properties(keys: &[Key]) -> Value {
    let each = keys.iter().map(|key| (key.name.to_string(), with_meaning(takes(key.takes), key.means)));
    Value::Object(each.collect())
}

fn takes(takes: Takes) -> Value {
    match takes {
        Takes::Text | Takes::Template | Takes::Expression => text(),
        Takes::Flag => json!({ "type": "boolean" }),
        Takes::Whole(low, high) => json!({ "type": "integer", "minimum": low, "maximum": high }),
        Takes::Confidence => confidence(),
        Takes::Texts => list_of(text()),
        Takes::Limits => json!({ "type": "array", "items": text(), "minItems": 2, "maxItems": 2 }),
        Takes::Measure => json!({ "enum": Measure::all().map(Measure::name).collect::<Vec<_>>() }),
        Takes::Kind => by_type(json!({ "string": { "enum": Kind::names() }, "array": list_of(text()) })),
        Takes::Choices => choices(),
        Takes::OneOf(words) => json!({ "enum": words }),
        Takes::Bounds => json!({
            "type": "object",
            "properties": {
                "until": text(),
                "at_most": { "type": "integer", "minimum": 1 },
                "at_least": { "type": "integer", "minimum": 0 },
            },
            "required": ["until", "at_most"],
            "additionalProperties": false,
        }),
        Takes::Terms => terms(),
        Takes::Otherwise => json!({
            "type": ["string", "object"],
            "properties": {
                "again": text(),
                "stop": text(),
                "label": text(),
                "finding": text(),
                "brings": list_of(text()),
                "undoes": list_of(text()),
            },
            "additionalProperties": false,
        }),
        Takes::Gauge => json!({ "enum": gauges().into_iter().map(|(name, _)| name).collect::<Vec<_>>() }),
        Takes::Observable => {
            json!({ "enum": OBSERVABLES.iter().map(|known| known.name).collect::<Vec<_>>() })
        }
        Takes::Hazards => {
            list_of(json!({ "enum": HAZARDS.iter().map(|hazard| hazard.id).collect::<Vec<_>>() }))
        }
        Takes::Waiver => waivers(),
        Takes::Given => json!({ "type": "object", "additionalProperties": text() }),
        Takes::Steps => json!({ "type": "array", "items": { "$ref": "#/$defs/step" } }),
    }
}

fn text() -> Value {
    json!({ "type": "string" })
}

/// Words to choose from, or tables of them.
fn choices() -> Value {
    let table = json!({
        "type": "object",
        "properties": { "value": text(), "label": text(), "help": text() },
        "required": ["value"],
        "additionalProperties": false,
    });
    json!({ "type": "array", "minItems": 2, "items": by_type(json!({ "string": {}, "object": table })) })
}

/// Names with their kinds.
fn terms() -> Value {
    let kind = json!({ "type": ["string", "array"], "items": text() });
    let table = json!({
        "type": "object",
        "properties": { "kind": kind, "maybe": { "type": "boolean" }, "usual": text(), "when": text() },
        "required": ["kind"],
        "additionalProperties": false,
    });
    let either = by_type(json!({ "string": {}, "array": list_of(text()), "object": table }));
    json!({ "type": "object", "additionalProperties": either })
}

/// A need that is left out, or several.
fn waivers() -> Value {
    let waiver = json!({
        "type": "object",
        "properties": { "need": text(), "because": { "type": "string", "minLength": 10 } },
        "required": ["need", "because"],
        "additionalProperties": false,
    });
    by_type(json!({ "object": waiver, "array": list_of(waiver.clone()) }))
}

fn confidence() -> Value {
    json!({ "type": ["number", "string"], "minimum": 0.6, "maximum": 0.999 })
}

/// What may be of several types, each with what holds for it.
fn by_type(types: Value) -> Value {
    let types = types.as_object().cloned().unwrap_or_default();
    let names: Vec<&String> = types.keys().collect();
    let each = types.iter().map(|(name, then)| json!({ "if": { "type": name }, "then": then }));
    json!({ "type": names, "allOf": each.collect::<Vec<_>>() })
}

fn path_value(kind: PathKind) -> Value {
    match kind {
        PathKind::Measure(_) | PathKind::Text => json!({ "type": "string" }),
        PathKind::YesNo => json!({ "type": "boolean" }),
        PathKind::Words(words) => json!({ "enum": words }),
    }
}

fn gauge() -> Value {
    let ids = |gauges: &[Gauge]| gauges.iter().map(|gauge| gauge.id.to_string()).collect::<Vec<_>>();
    let value = |key: &str| match key {
        "id" => json!({ "enum": ids(COMMON_GAUGES) }),
        "kind" => json!({ "enum": ids(GAUGE_KINDS) }),
        "grade" => json!({ "enum": GRADES.iter().map(|grade| grade.name).collect::<Vec<_>>() }),
        "reads" => json!({ "enum": Reads::WORDS }),
        _ => json!({ "type": "string" }),
    };
    let keys = GAUGE_KEYS.iter().map(|(key, means)| (key.to_string(), with_meaning(value(key), means)));
    json!({
        "type": "object",
        "properties": Value::Object(keys.collect()),
        "required": ["id"],
        "additionalProperties": false,
    })
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
