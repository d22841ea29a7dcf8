//! Worksheets: whole outputs, and what every sheet must hold.

use std::collections::BTreeSet;

use tankhand::app::{DEMOS, Library};
use tankhand::procedure::{Procedure, SHIPPED};
use tankhand::quantity::Units;
use tankhand::record::{Entry, EntryKind};
use tankhand::report::{Sheet, Slot, sheet_html, sheet_text, worksheet};
use tankhand::source::SourceText;
use tankhand::system::{self, System};

use crate::golden::holds;
use crate::markup;
use crate::stage::played;

fn procedure(name: &str) -> Procedure {
    Library::default().load(name).unwrap()
}

fn demo_system(name: &str) -> System {
    let path = format!("{}/transcripts-demo/{name}/system.toml", env!("CARGO_MANIFEST_DIR"));
    system::load(&SourceText::new("system.toml", std::fs::read_to_string(path).unwrap())).unwrap()
}

fn lines(sheet: &Sheet, width: usize) -> String {
    sheet_text(sheet, width).join("\n") + "\n"
}

#[test]
fn a_short_procedure_on_paper() {
    let short = format!("{}/tests/support/short.toml", env!("CARGO_MANIFEST_DIR"));
    let sheet = worksheet("short", &procedure(&short), (&System::default(), 0), Units::Us);
    holds("tests/report/golden/sheet_80.txt", &lines(&sheet, 80));
    holds("tests/report/golden/sheet_40.txt", &lines(&sheet, 40));
    holds("tests/report/golden/sheet.html", &sheet_html(&sheet));
}

#[test]
fn the_flush_on_paper_is_made_for_the_installation() {
    let system = demo_system("mountain-hut");
    let sheet = worksheet("flush", &procedure("flush"), (&system, 0), Units::Metric);
    holds("tests/report/golden/sheet_flush.txt", &lines(&sheet, 80));
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
        let places =
            places.filter(|item| item.line.slot != Slot::Nothing && item.line.slot != Slot::Verdict).count();
        let entries = played(demo).contents().entries;
        let steps = |that: &dyn Fn(&Entry) -> bool| -> BTreeSet<&str> {
            entries.iter().filter(|entry| that(entry)).map(|entry| entry.step.as_str()).collect()
        };
        let asked = steps(&|entry| entry.asked.is_some() && entry.verdict.is_none());
        assert!(places >= asked.len(), "{}: {places} places for {} questions", demo.name, asked.len());
        let on_sheet = lines(&sheet, 80).split_whitespace().collect::<Vec<_>>().join(" ");
        for entry in entries.iter().filter(|entry| entry.kind == EntryKind::Understood) {
            for message in &entry.warned {
                let first = message.lines().next().unwrap().split_whitespace().collect::<Vec<_>>().join(" ");
                assert!(on_sheet.contains(&first), "{}: {first}", demo.name);
            }
        }
    }
}

/// Each procedure on each invented installation is sound HTML, and fits its width as text.
#[test]
fn every_sheet_is_sound() {
    let names = SHIPPED.iter().map(|file| file.name).filter(|name| !name.contains('/'));
    for name in names {
        let procedure = procedure(name);
        for system in ["gritty-tank", "mountain-hut", "two-tanks-spring", "hidden-dead-tank", "driveway-tank"]
        {
            let system = demo_system(system);
            let sheet = worksheet(name, &procedure, (&system, 0), system.units.unwrap_or_default());
            assert_eq!(markup::holds(&sheet_html(&sheet)), Ok(()), "{name}");
            for width in [40, 80] {
                for line in sheet_text(&sheet, width) {
                    assert!(textwrap::core::display_width(&line) <= width, "{name}: {line:?}");
                }
            }
        }
    }
}

/// The water in the table, worked out here by Boyle's law from the rows as they are printed: a
/// tank of 44 gal between 60 and 40 psi at 620 ft. The atmosphere there is 14.37 psi (US Standard
/// Atmosphere 1976, p = 101325 (1 - 2.25577e-5 h)^5.25588 Pa).
#[test]
fn the_table_of_water_follows_boyle() {
    let sheet = worksheet("flush", &procedure("flush"), (&demo_system("gritty-tank"), 0), Units::Us);
    let table = sheet.tables.iter().find(|table| table.head[0] == "precharge").unwrap();
    let number = |cell: &str| cell.split(' ').next().unwrap().parse::<f64>().unwrap();
    let atmosphere = 101_325.0 * (1.0 - 2.255_77e-5 * 620.0 * 0.3048f64).powf(5.255_88) / 6_894.757;
    assert_eq!(table.rows.len(), 9);
    for row in &table.rows {
        let (charge, water) = (number(&row[0]), number(&row[1]));
        let air = |pressure: f64| 44.0 * (charge + atmosphere) / (pressure + atmosphere);
        let expected = air(charge.max(40.0)) - air(60.0);
        assert!((water - expected).abs() <= 0.051, "{charge} psi: {water} gal, not {expected}");
    }
}

/// Where tanks are taken one by one, each has a place of its own.
#[test]
fn every_tank_has_its_place() {
    let sheet = worksheet("yearly", &procedure("yearly"), (&demo_system("two-tanks-spring"), 0), Units::Us);
    let text = lines(&sheet, 80);
    for tank in ["left", "shelf"] {
        assert!(
            text.contains(&format!("{tank}: ________")) || text.contains(&format!("{tank}:_____")),
            "{tank}"
        );
    }
    assert_eq!(sheet.tank, None);
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
