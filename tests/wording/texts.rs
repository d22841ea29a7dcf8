//! What a procedure says, its parts in place, in the order in which it is met.

use tankhand::app::Library;
use tankhand::procedure::shipped;
use toml::{Table, Value};

/// A text, and where it stands.
#[derive(Clone, Debug)]
pub struct Spoken {
    /// The id of its fact or step.
    pub step: String,
    /// Its key.
    pub key: String,
    /// The text.
    pub text: String,
}

/// The keys of a fact or step that hold words for a person.
const KEYS: &[&str] = &[
    "title", "label", "do", "ask", "say", "tell", "see", "not_so", "why", "how", "pass", "fail", "unsure",
    "stop", "conclude", "says", "next", "finding",
];

/// Every shipped procedure and what it says.
pub fn procedures() -> Vec<(String, Vec<Spoken>)> {
    let names = Library::default().procedures();
    names.into_iter().map(|name| (name.clone(), said(&name))).collect()
}

fn said(name: &str) -> Vec<Spoken> {
    let (mut facts, mut steps) = (Vec::new(), Vec::new());
    put_in(&read(name), &mut facts, &mut steps);
    facts.extend(steps);
    facts
}

fn read(name: &str) -> Table {
    shipped(name).unwrap().text.parse().unwrap()
}

fn put_in(file: &Table, facts: &mut Vec<Spoken>, steps: &mut Vec<Spoken>) {
    for fact in tables(file, "fact") {
        keep(fact, facts);
    }
    put_in_steps(file, facts, steps);
}

fn put_in_steps(holder: &Table, facts: &mut Vec<Spoken>, steps: &mut Vec<Spoken>) {
    for step in tables(holder, "step") {
        if let Some(part) = step.get("use").and_then(Value::as_str) {
            put_in(&read(part), facts, steps);
        }
        keep(step, steps);
        put_in_steps(step, facts, steps);
    }
}

fn tables<'a>(holder: &'a Table, key: &str) -> impl Iterator<Item = &'a Table> {
    holder.get(key).and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_table)
}

fn keep(table: &Table, kept: &mut Vec<Spoken>) {
    let id = table.get("id").and_then(Value::as_str).unwrap_or("a step without a name");
    let mut keep = |key: &str, text: &str| {
        kept.push(Spoken { step: id.to_string(), key: key.to_string(), text: text.to_string() });
    };
    for key in KEYS {
        if let Some(text) = table.get(*key).and_then(Value::as_str) {
            keep(key, text);
        }
    }
    for (key, outcome) in ["never", "not_so"].map(|key| (key, table.get(key).and_then(Value::as_table))) {
        for inner in ["label", "stop", "again", "finding"] {
            if let Some(text) = outcome.and_then(|outcome| outcome.get(inner)?.as_str()) {
                keep(key, text);
            }
        }
    }
    for choice in table.get("choose").and_then(Value::as_array).into_iter().flatten() {
        if let Some(word) = choice.as_str().or_else(|| choice.get("value")?.as_str()) {
            keep("choice", word);
        }
        for key in ["label", "help"] {
            if let Some(text) = choice.get(key).and_then(Value::as_str) {
                keep(key, text);
            }
        }
    }
}

/// A text without what stands in braces.
pub fn without_holes(text: &str) -> String {
    filled(text, "").split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A text as it is read, with a word for what stands in braces, and terms taken for words that
/// everyone knows: their meaning is told when they are first used.
pub fn spoken(text: &str) -> String {
    let text = filled(text, "number");
    tankhand::words::GLOSSARY.iter().fold(text, |text, term| text.replace(term.term, "tank"))
}

fn filled(text: &str, word: &str) -> String {
    let mut filled = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        filled.push_str(before);
        filled.push_str(word);
        rest = after.split_once('}').map_or("", |(_, rest)| rest);
    }
    filled + rest
}
