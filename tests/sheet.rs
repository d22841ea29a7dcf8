//! Worksheets: whole outputs, and what every sheet must hold.

#[path = "support/golden.rs"]
mod golden;

use std::collections::BTreeSet;

use golden::assert_golden;
use tankhand::app::{DEMOS, Library};
use tankhand::engine::ACKNOWLEDGE;
use tankhand::procedure::Procedure;
use tankhand::quantity::Units;
use tankhand::report::{Sheet, Slot, sheet_html, sheet_text, worksheet};
use tankhand::source::SourceText;
use tankhand::system::{self, System};

fn procedure(name: &str) -> Procedure {
    Library::default().load(name).unwrap()
}

fn demo_system(name: &str) -> System {
    let path = format!("{}/transcripts-demo/{name}/system.toml", env!("CARGO_MANIFEST_DIR"));
    system::load(&SourceText::new("system.toml", std::fs::read_to_string(path).unwrap())).unwrap()
}

fn lines(sheet: &Sheet, width: usize) -> String {
    sheet_text(sheet, width).join("\n")
}

#[test]
fn a_short_procedure_on_paper() {
    let short = format!("{}/tests/support/short.toml", env!("CARGO_MANIFEST_DIR"));
    let sheet = worksheet("short", &procedure(&short), (&System::default(), 0), Units::Us);
    assert_golden("sheet_80.txt", &lines(&sheet, 80));
    assert_golden("sheet_40.txt", &lines(&sheet, 40));
    assert_golden("sheet.html", &sheet_html(&sheet));
}

#[test]
fn the_flush_on_paper_is_made_for_the_installation() {
    let system = demo_system("mountain-hut");
    let sheet = worksheet("flush", &procedure("flush"), (&system, 0), Units::Metric);
    assert_golden("sheet_flush.txt", &lines(&sheet, 80));
    let elsewhere = worksheet("flush", &procedure("flush"), (&demo_system("gritty-tank"), 0), Units::Us);
    assert!(
        lines(&sheet, 80).contains("lever") && !lines(&elsewhere, 80).contains("Hold the switch's lever")
    );
}

/// What a demonstration was asked stands on its sheet: at least as many lines to fill in or tick
/// as there were different questions.
#[test]
fn every_question_of_a_run_has_its_line() {
    for demo in DEMOS {
        let system = demo_system(demo.name);
        let units = system.units.unwrap_or_default();
        let sheet = worksheet(demo.procedure, &procedure(demo.procedure), (&system, 0), units);
        let places = sheet.sections.iter().flat_map(|section| &section.items);
        let places = places.filter(|item| item.slot != Slot::Nothing && item.slot != Slot::Verdict).count();
        let record = format!("{}/transcripts-demo/{}/record.toml", env!("CARGO_MANIFEST_DIR"), demo.name);
        let record: toml::Table = toml::from_str(&std::fs::read_to_string(record).unwrap()).unwrap();
        let entries = record["entry"].as_array().unwrap();
        let steps = |that: &dyn Fn(&toml::Value) -> bool| -> BTreeSet<String> {
            let those = entries.iter().filter(|entry| that(entry));
            those.map(|entry| entry["step"].as_str().unwrap().to_string()).collect()
        };
        let asked = steps(&|entry| entry.get("asked").is_some() && entry.get("verdict").is_none());
        assert!(places >= asked.len(), "{}: {places} places for {} questions", demo.name, asked.len());
        let given =
            |entry: &toml::Value| entry.get("given").and_then(|given| given.as_str()) == Some(ACKNOWLEDGE);
        let dangers = steps(&given);
        let shown = lines(&sheet, 80).matches("DANGER: ").count();
        assert!(shown >= dangers.len(), "{}: {shown} dangers of {}", demo.name, dangers.len());
    }
}

#[test]
fn hostile_words_stay_text() {
    let text =
        "format = 1\nname = \"<script>alert(1)</script>\"\n[[tank]]\nid = \"a\"\nname = \"\\\"><i>\"\n";
    let system = system::load(&SourceText::new("system.toml", text)).unwrap();
    let html = sheet_html(&worksheet("flush", &procedure("flush"), (&system, 0), Units::Us));
    assert!(!html.contains("<script") && html.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
    assert!(!html.contains("\"><i>"));
}
