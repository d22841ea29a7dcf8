//! What the format's page says, held against records themselves.

use std::collections::BTreeSet;

use tankhand::clock::BootTime;
use tankhand::record::{ENTRY_KEYS, FormatKey, HEAD_KEYS, Header, Mended, Practiced, RESULT_KEYS, TEXT_KEYS};
use tankhand::report::{columns_page, record_format_page};

use crate::golden::holds;
use crate::markdown::to_markdown;
use crate::samples::{entries, header, record, summary};

fn names(keys: &[FormatKey]) -> Vec<&'static str> {
    keys.iter().map(|key| key.name).collect()
}

fn word(value: &toml::Value) -> &'static str {
    match value {
        toml::Value::Datetime(_) => "date-time",
        toml::Value::Array(list) if list.iter().all(toml::Value::is_integer) => "array of integers",
        toml::Value::Array(list) if list.iter().all(toml::Value::is_str) => "array of strings",
        toml::Value::Array(_) => "array of tables",
        other => other.type_str(),
    }
}

/// The keys a table may have are those told, each with what is told of it.
fn held(table: &toml::Table, keys: &[FormatKey], seen: &mut BTreeSet<&'static str>) {
    for (name, value) in table {
        let key =
            keys.iter().find(|key| key.name == name).unwrap_or_else(|| panic!("`{name}` is not told of"));
        assert_eq!(word(value), key.takes, "{name}");
        seen.insert(key.name);
    }
}

#[test]
fn the_keys_told_are_those_a_record_has() {
    let mut entries = entries();
    entries[11].more.clear();
    entries[2].tank = Some("main".to_string());
    entries[7].boot = Some(BootTime { boot: "1f0c".to_string(), seconds: 4_000.5 });
    let tanks = vec!["left".to_string(), "right".to_string()];
    let header = Header {
        transcribed: Some(summary().at),
        practice: Some(Practiced { fault: "waterlogged".to_string(), seed: 4 }),
        tanks,
        without: vec!["parts/hold-test".into()],
        mended: Some(Mended { lost: vec![3], ..Mended::default() }),
        ..header()
    };
    let bytes = record(&header, &entries, Some(&summary()));
    let mut whole: toml::Table = String::from_utf8(bytes).unwrap().parse().unwrap();
    let list = |table: &mut toml::Table, name: &str| {
        table
            .get(name)
            .unwrap()
            .as_array()
            .unwrap()
            .iter()
            .map(|item| item.as_table().unwrap().clone())
            .collect::<Vec<_>>()
    };
    let mut seen = BTreeSet::new();
    for entry in list(&mut whole, "entry") {
        held(&entry, ENTRY_KEYS, &mut seen);
    }
    assert_eq!(seen, names(ENTRY_KEYS).into_iter().collect(), "told of, and in no record");
    seen.clear();
    for text in list(&mut whole, "text") {
        held(&text, TEXT_KEYS, &mut seen);
    }
    assert_eq!(seen.len(), TEXT_KEYS.len());
    seen.clear();
    held(whole.remove("result").unwrap().as_table().unwrap(), RESULT_KEYS, &mut seen);
    assert_eq!(seen.len(), RESULT_KEYS.len());
    seen.clear();
    whole.remove("entry");
    held(&whole, HEAD_KEYS, &mut seen);
    assert_eq!(seen.len(), HEAD_KEYS.len());
}

/// The keys of an entry stand in the order told.
#[test]
fn keys_stand_in_the_order_told() {
    let text = String::from_utf8(record(&header(), &entries(), None)).unwrap();
    let order = |key: &str| names(ENTRY_KEYS).iter().position(|name| *name == key);
    for block in text.split("\n[[entry]]\n").skip(1) {
        let places: Vec<usize> = block.lines().filter_map(|line| order(line.split_once(" = ")?.0)).collect();
        assert!(places.is_sorted(), "{block}");
    }
}

/// `FORMAT.md` is made from the program's own tables.
#[test]
fn the_document_is_what_the_tables_say() {
    let mut document = to_markdown(&record_format_page(), 1);
    document.push('\n');
    document.push_str(&to_markdown(&columns_page(), 1));
    holds("tests/record/FORMAT.md", &document);
}
