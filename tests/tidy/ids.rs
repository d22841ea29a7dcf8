//! No step of a shipped procedure is known by its id: what a value is of says the table of observables.

use std::collections::BTreeSet;

use tankhand::procedure::{OBSERVABLES, SHIPPED};
use tankhand::record::Phase;
use tankhand::system::PATHS;

use crate::{Source, sources};

/// Every id of a fact or a step, those inside loops too.
fn ids(table: &toml::Table, into: &mut BTreeSet<String>) {
    for key in ["fact", "step"] {
        for item in table.get(key).and_then(toml::Value::as_array).into_iter().flatten() {
            let Some(item) = item.as_table() else { continue };
            into.extend(item.get("id").and_then(toml::Value::as_str).map(str::to_string));
            ids(item, into);
        }
    }
}

/// The words to choose from at every step, those inside loops too.
fn choices(table: &toml::Table, into: &mut BTreeSet<String>) {
    for item in table.get("step").and_then(toml::Value::as_array).into_iter().flatten() {
        let Some(item) = item.as_table() else { continue };
        for choice in item.get("choose").and_then(toml::Value::as_array).into_iter().flatten() {
            let word = choice.as_str().or_else(|| choice.get("value")?.as_str());
            into.extend(word.map(str::to_string));
        }
        choices(item, into);
    }
}

/// The words that stand for something else too: an observable, a place of the system file, a procedure,
/// a phase, an answer to choose. What functions take is named where they are told of.
fn other_words() -> BTreeSet<String> {
    let mut words: BTreeSet<String> = OBSERVABLES.iter().map(|known| known.name.to_string()).collect();
    words.extend(PATHS.iter().map(|entry| entry.path.to_string()));
    words.extend(SHIPPED.iter().map(|file| file.name.to_string()));
    SHIPPED.iter().for_each(|file| choices(&file.text.parse().unwrap(), &mut words));
    // A key of the language, below `without`.
    words.insert("need".to_string());
    words.extend(Phase::all().map(|phase| phase.word().to_string()));
    words
}

#[test]
fn no_id_of_a_shipped_step_stands_in_the_code() {
    let mut shipped = BTreeSet::new();
    for file in SHIPPED {
        ids(&file.text.parse().unwrap(), &mut shipped);
    }
    assert!(shipped.len() > 300, "{} ids only", shipped.len());
    let other = other_words();
    let named: BTreeSet<&String> = shipped.iter().filter(|id| !other.contains(*id)).collect();
    assert!(named.contains(&"precharge_left".to_string()));
    let mut faults = Vec::new();
    let passed_over = ["procedure/functions/", "procedure/prove/tests/", "words/glossary.rs"];
    let is_examined = |source: &&Source| passed_over.iter().all(|folder| !source.name.starts_with(folder));
    for source in sources().iter().filter(is_examined) {
        for (line, number) in source.code.iter().zip(1..) {
            let code = line.split("//").next().unwrap_or(line);
            let texts = code.split('"').skip(1).step_by(2);
            let found = texts.filter(|text| named.contains(&text.to_string()));
            faults.extend(found.map(|id| format!("src/{}:{number}: `{id}`", source.name)));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
