//! The language told from its own tables: the reference chapter, and the schemas for editors,
//! held against the shipped files by an independent validator (the `jsonschema` crate).

#[path = "support/golden.rs"]
mod golden;
#[path = "support/markdown.rs"]
mod markdown;

use std::fs;

use markdown::to_markdown;
use serde_json::Value;
use tankhand::procedure::SHIPPED;
use tankhand::report::{TOPICS, guide_page, procedure_schema, record_schema, system_schema};

/// `procedures/LANGUAGE.md` is made from the tables.
#[test]
fn the_reference_chapter_is_what_the_tables_say() {
    let mut chapter = String::from(
        "# The procedure language\n\nMade from the program's own tables; `tankhand guide` tells the same in the \
         terminal.\n\n",
    );
    for (topic, ..) in TOPICS {
        chapter.push_str(&to_markdown(&guide_page(topic).unwrap(), 2));
        chapter.push('\n');
    }
    golden::holds("procedures/LANGUAGE.md", &chapter);
}

fn as_json(toml_text: &str) -> Value {
    json_of(toml::Value::Table(toml_text.parse().unwrap()))
}

fn json_of(value: toml::Value) -> Value {
    match value {
        toml::Value::Datetime(at) => Value::String(at.to_string()),
        toml::Value::Array(items) => items.into_iter().map(json_of).collect(),
        toml::Value::Table(keys) => keys.into_iter().map(|(key, value)| (key, json_of(value))).collect(),
        plain => serde_json::to_value(plain).unwrap(),
    }
}

/// What the validator says of a file, each fault with its place.
fn faults(schema: &Value, text: &str) -> Vec<String> {
    let validator = jsonschema::validator_for(schema).unwrap();
    let instance = as_json(text);
    let faults = validator.iter_errors(&instance).map(|error| format!("{}: {error}", error.instance_path()));
    faults.collect()
}

#[test]
fn the_schema_fits_every_shipped_procedure() {
    let schema = procedure_schema();
    assert!(jsonschema::meta::is_valid(&schema));
    for file in SHIPPED {
        assert_eq!(faults(&schema, file.text), Vec::<String>::new(), "{}", file.name);
    }
}

#[test]
fn the_schema_marks_what_the_loader_refuses() {
    let schema = procedure_schema();
    let head = "format = 1\ntitle = 't'\npurpose = 'p'\n";
    for (text, said) in [
        (
            "[[step]]\ndo = 'x'\ndurration = 3\n",
            &["/step/0: Additional properties are not allowed ('durration' was unexpected)"][..],
        ),
        ("[[step]]\nread = 'pressure'\nask = 3\n", &["/step/0/ask: 3 is not of type \"string\""]),
        (
            "[[step]]\nread = 'pressure'\nsee = 'q'\n",
            &["/step/0: Additional properties are not allowed ('see' was unexpected)"],
        ),
        (
            "[[step]]\ndo = 'x'\ntell = 'y'\n",
            &[
                "/step/0: Additional properties are not allowed ('tell' was unexpected)",
                "/step/0: Additional properties are not allowed ('do' was unexpected)",
            ],
        ),
        (
            "[[step]]\ndo = 'x'\nnot_so = { agian = 'y' }\n",
            &["/step/0/not_so: Additional properties are not allowed ('agian' was unexpected)"],
        ),
        (
            "[[step]]\nid = 'x'\n",
            &["/step/0: {\"id\":\"x\"} is not valid under any of the schemas listed in the 'anyOf' keyword"],
        ),
        (
            "[[step]]\nconclude = 'low'\ngrade = 'bad'\nsays = 's'\n",
            &["/step/0/grade: \"bad\" is not one of \"good\", \"note\" or 3 other candidates"],
        ),
        ("[[fact]]\nid = 'x'\nkind = 'pressure'\n", &["/fact/0: \"ask\" is a required property"]),
        (
            "[[fact]]\nid = 'x'\nkind = 'presure'\nask = 'q'\n",
            &[
                "/fact/0/kind: \"presure\" is not one of \"pressure\", \"pressure change\" or 16 other candidates",
            ],
        ),
        ("[[step]]\nrepeat = { until = 'yes' }\n", &["/step/0/repeat: \"at_most\" is a required property"]),
        ("colour = 'red'\n", &[": Additional properties are not allowed ('colour' was unexpected)"]),
    ] {
        assert_eq!(faults(&schema, &format!("{head}{text}")), said, "{text}");
    }
}

#[test]
fn the_schema_fits_every_system_file() {
    let schema = system_schema();
    assert!(jsonschema::meta::is_valid(&schema));
    let mut count = 0;
    for folder in fs::read_dir(golden::in_project("transcripts-demo")).unwrap() {
        let file = folder.unwrap().path().join("system.toml");
        if file.is_file() {
            assert_eq!(faults(&schema, &fs::read_to_string(&file).unwrap()), Vec::<String>::new());
            count += 1;
        }
    }
    assert!(count >= 3);
    assert_eq!(
        faults(&schema, "format = 1\n[switch]\ncutin = '40 psi'\n"),
        ["/switch: Additional properties are not allowed ('cutin' was unexpected)"]
    );
}

/// The committed records, one of each kind of entry among them; keys of later versions may stand in one.
#[test]
fn the_schema_of_records_fits_every_record() {
    let schema = record_schema();
    assert!(jsonschema::meta::is_valid(&schema));
    let kinds =
        fs::read_dir(golden::in_project("tests/record/golden")).unwrap().map(|file| file.unwrap().path());
    let records: Vec<_> = kinds.filter(|path| path.extension().is_some_and(|it| it == "toml")).collect();
    assert!(!records.is_empty());
    let demo = golden::in_project("transcripts-demo/flood-water/record.toml");
    for path in records.iter().chain([&demo]) {
        let text = fs::read_to_string(path).unwrap();
        assert_eq!(faults(&schema, &text), Vec::<String>::new(), "{}", path.display());
    }
    let text = fs::read_to_string(&demo).unwrap();
    for (slip, said) in [
        (
            ["kind = \"fact\"", "kind = \"fcat\""],
            "/entry/0/kind: \"fcat\" is not one of \"fact\", \"done\" or 17 other candidates",
        ),
        (["n = 1\n", "n = \"1\"\n"], "/entry/0/n: \"1\" is not of type \"integer\""),
        (["format = 1\n", "format = 2\n"], "/format: 1 was expected"),
    ] {
        let slipped = text.replacen(slip[0], slip[1], 1);
        assert_ne!(slipped, text);
        assert_eq!(faults(&schema, &slipped), [said]);
    }
}
