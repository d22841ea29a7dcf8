//! The language told from its own tables: the reference chapter, and the schemas for editors,
//! held against the shipped files by an independent validator (the `jsonschema` crate).

#[path = "support/golden.rs"]
mod golden;

use std::fs;

use serde_json::Value;
use tankhand::procedure::SHIPPED;
use tankhand::report::{TOPICS, guide_page, procedure_schema, system_schema, to_markdown};

/// `procedures/LANGUAGE.md` is made from the tables.
#[test]
fn the_reference_chapter_is_what_the_tables_say() {
    let mut chapter = String::from(
        "# The procedure language\n\nMade from the program's own tables; `tankhand guide` tells the same in the \
         terminal.\n\n",
    );
    for (topic, _) in TOPICS {
        chapter.push_str(&to_markdown(&guide_page(topic).unwrap(), 2));
        chapter.push('\n');
    }
    golden::holds("procedures/LANGUAGE.md", &chapter);
}

fn as_json(toml_text: &str) -> Value {
    serde_json::to_value(toml_text.parse::<toml::Table>().unwrap()).unwrap()
}

fn faults(schema: &Value, text: &str) -> Vec<String> {
    let validator = jsonschema::validator_for(schema).unwrap();
    validator.iter_errors(&as_json(text)).map(|error| error.instance_path().to_string()).collect()
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
    for (text, place) in [
        ("[[step]]\ndo = 'x'\ndurration = 3\n", "/step/0"),
        ("[[step]]\nread = 'presure'\nask = 'q'\n", "/step/0"),
        ("[[step]]\nid = 'x'\n", "/step/0"),
        ("[[fact]]\nid = 'x'\nkind = 'pressure'\n", "/fact/0"),
        ("[[step]]\nrepeat = { until = 'yes' }\n", "/step/0"),
        ("colour = 'red'\n", ""),
    ] {
        assert_eq!(faults(&schema, &format!("{head}{text}")), [place], "{text}");
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
    assert_eq!(faults(&schema, "format = 1\n[switch]\ncutin = '40 psi'\n"), ["/switch"]);
}
