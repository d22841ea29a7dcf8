//! A file as tables with their keys, as written: nothing is checked.

use std::collections::BTreeMap;

use crate::document::{Fields, Written, read_document};
use crate::procedure::keys::{CHOICES, Key, Takes, WAIVERS};
use crate::procedure::shipped::{SHIPPED, Shipped};
use crate::procedure::steps::{VERBS, declared};
use crate::procedure::without::waivers;
use crate::source::SourceText;

/// A file's tables, in their order.
#[derive(Debug)]
pub(super) struct Outline {
    pub head: OutlineItem,
    pub states: Vec<OutlineItem>,
    pub facts: Vec<OutlineItem>,
    /// Steps, those inside loops too.
    pub steps: Vec<OutlineItem>,
}

/// One table.
#[derive(Clone, Debug)]
pub(super) struct OutlineItem {
    /// Its id, or the part it uses, or its verb and words.
    pub name: String,
    /// The line it begins on.
    pub line: usize,
    /// The key of its verb, of a step.
    pub verb: Option<&'static Key>,
    pub keys: BTreeMap<String, Written>,
}

/// What a key holds, as a short line shows it.
pub(super) fn in_short(value: &Written) -> String {
    match value {
        Written::One(text) => cut(text),
        Written::List(items) => cut(&items.join(", ")),
    }
}

/// As much of a text as is shown.
fn cut(text: &str) -> String {
    match text.char_indices().nth(LONGEST_SHOWN) {
        Some((at, _)) => format!("{}…", &text[..at]),
        None => text.to_string(),
    }
}

/// The most characters of a value that are shown.
const LONGEST_SHOWN: usize = 60;

impl Outline {
    /// The outline of a text that is TOML; its other faults are told elsewhere.
    pub(super) fn of(source: &SourceText) -> Option<Outline> {
        let outline = |root: &Fields<'_>| {
            let mut steps = Vec::new();
            step_items(root, &mut steps);
            Outline {
                head: item(root, 1, String::new(), None),
                states: named(root, "state"),
                facts: named(root, "fact"),
                steps,
            }
        };
        read_document(source, outline).ok().map(|(outline, _)| outline)
    }
}

fn named(root: &Fields<'_>, key: &str) -> Vec<OutlineItem> {
    let tables = if root.is_list(key) { root.tables(key) } else { Vec::new() };
    let name = |fields: &Fields<'_>| fields.text("id").map(|id| id.text).unwrap_or_default();
    tables.iter().map(|fields| item(fields, line(fields), name(fields), None)).collect()
}

fn step_items(fields: &Fields<'_>, steps: &mut Vec<OutlineItem>) {
    let tables = if fields.is_list("step") { fields.tables("step") } else { Vec::new() };
    for table in tables {
        let verb = VERBS.iter().map(|verb| &verb.key).find(|key| table.has(key.name));
        let words = match verb.and_then(|key| table.written(key.name)) {
            Some(Written::One(words)) => words,
            Some(Written::List(_)) | None => String::new(),
        };
        let led = table.text("as").map_or(String::new(), |prefix| format!(" as {}", prefix.text));
        let name = match verb {
            Some(Key { takes: Takes::Part, .. }) => format!("{words}{led}"),
            Some(_) | None => format!("{} {words}", verb.map_or("", |key| key.name)),
        };
        let name = table.text("id").map_or(name, |id| id.text);
        steps.push(item(&table, line(&table), name, verb));
        step_items(&table, steps);
    }
}

fn line(fields: &Fields<'_>) -> usize {
    fields.source().place(fields.span.start).line
}

fn item(fields: &Fields<'_>, line: usize, name: String, verb: Option<&'static Key>) -> OutlineItem {
    let tables = ["step", "fact", "state"];
    let keys = fields.keys().filter(|(key, _)| !tables.contains(key));
    let keys = keys.filter_map(|(key, _)| {
        let texts = |tables: Vec<Fields<'_>>, key| {
            Written::List(tables.iter().filter_map(|table| table.text(key)).map(|text| text.text).collect())
        };
        let takes = |takes| declared(key).any(|key| key.takes == takes);
        let value = if takes(CHOICES) && fields.is_list_of_tables(key) {
            texts(fields.tables(key), "value")
        } else if takes(WAIVERS) {
            texts(waivers(fields), "because")
        } else {
            fields.written(key)?
        };
        Some((key.to_string(), value))
    });
    OutlineItem { name, line, verb, keys: keys.collect() }
}

impl OutlineItem {
    /// What a person calls it.
    pub(super) fn called(&self) -> String {
        if self.part().is_some() {
            return self.name.clone();
        }
        match self.name.as_str() {
            "" => "the top of the file".to_string(),
            words if words.contains(' ') => format!("“{}”", cut(words)),
            id => format!("`{id}`"),
        }
    }

    /// What its verb's key holds, where that takes such.
    fn given(&self, takes: Takes) -> Option<Vec<&str>> {
        self.verb.filter(|key| key.takes == takes).map(|key| self.list(key.name))
    }

    /// The part that it uses.
    pub(super) fn part(&self) -> Option<&str> {
        self.given(Takes::Part)?.first().copied()
    }

    /// The words that there are to choose from.
    pub(super) fn choices(&self) -> Option<Vec<&str>> {
        self.given(CHOICES)
    }

    /// Whether it is, with other words, what that one was.
    pub(super) fn is_reworded(&self, made: &OutlineItem) -> bool {
        let nameless = |item: &OutlineItem| item.name.contains(' ') && item.part().is_none();
        self.verb == made.verb
            && nameless(self)
            && nameless(made)
            && strsim::normalized_levenshtein(&self.name, &made.name) > 0.4
    }

    /// The texts of a list under a key, or the one text.
    pub(super) fn list(&self, key: &str) -> Vec<&str> {
        match self.keys.get(key) {
            Some(Written::List(items)) => items.iter().map(String::as_str).collect(),
            Some(Written::One(one)) => vec![one],
            None => Vec::new(),
        }
    }

    pub(super) fn has(&self, key: &str) -> bool {
        self.keys.contains_key(key)
    }

    pub(super) fn is_yes(&self, key: &str) -> bool {
        self.keys.get(key) == Some(&Written::One("true".to_string()))
    }
}

/// The shipped parts that claim a state at one of their steps.
pub(super) fn claimed_by(state: &str) -> Vec<&'static str> {
    let claims = |file: &&'static Shipped| {
        let steps = Outline::of(&file.source()).map(|outline| outline.steps).unwrap_or_default();
        steps.iter().any(|step| step.list("brings").contains(&state))
    };
    SHIPPED.iter().filter(claims).map(|file| file.name).collect()
}
