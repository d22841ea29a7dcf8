//! Worksheets: whole outputs, and what every sheet must hold.

use std::collections::BTreeSet;

use tankhand::app::{DEMOS, Library};
use tankhand::procedure::{Procedure, SHIPPED};
use tankhand::quantity::Units;
use tankhand::record::{Entry, EntryKind};
use tankhand::report::{Sheet, SheetItem, Slot, sheet_html, sheet_text, worksheet};
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
    let lever = |sheet: &Sheet| sheet.items().any(|item| item.line.text.starts_with("Lever"));
    assert!(lever(&sheet) && !lever(&elsewhere));
}

/// What a demonstration was asked stands on its sheet, each with a number of its own, and every hazard that
/// was met has its box.
#[test]
fn every_question_of_a_run_has_its_line() {
    for demo in DEMOS {
        let system = demo_system(demo.name);
        let units = system.units.unwrap_or_default();
        let own = procedure(demo.procedure);
        let sheet = worksheet(demo.procedure, &own, (&system, 0), units);
        let boxes: Vec<&String> = sheet.items().flat_map(|item| &item.boxes).collect();
        let numbered: Vec<&SheetItem> =
            sheet.items().filter(|item| item.line.slot != Slot::Nothing).collect();
        let on_sheet: BTreeSet<&str> = numbered.iter().map(|item| item.step.as_str()).collect();
        let numbers: BTreeSet<&str> = numbered.iter().map(|item| item.number.as_str()).collect();
        assert_eq!(numbers.len(), numbered.len(), "{}", demo.name);
        let entries = played(demo).contents().entries;
        let asked =
            |entry: &&Entry| entry.asked.is_some() && entry.verdict.is_none() && entry.kind.is_answer();
        let steps: BTreeSet<&str> = entries.iter().filter(asked).map(|entry| entry.step.as_str()).collect();
        // What another line speaks for, and what only an earlier record can tell, has no line of its own.
        let needs_none = |id: &str| {
            let Some(step) = own.step(id) else { return false };
            step.paper.as_ref().is_some_and(|words| words.unfilled().is_empty())
                || step.course().asks().is_some_and(|asks| asks.shows().if_recorded.is_some())
        };
        let missing: Vec<&&str> = steps.difference(&on_sheet).filter(|id| !needs_none(id)).collect();
        assert!(missing.is_empty(), "{}: {missing:?}", demo.name);
        for entry in entries.iter().filter(|entry| entry.kind == EntryKind::Understood) {
            for message in &entry.warned {
                let (named, _) = message.split_once(':').unwrap();
                assert!(boxes.iter().any(|hazard| hazard.starts_with(named)), "{}: {named}", demo.name);
            }
        }
    }
}

/// A pencil works nothing out: no formula stands on a sheet, and no name of a step.
#[test]
fn no_sheet_has_a_formula() {
    for file in SHIPPED.iter().filter(|file| !file.name.contains('/')) {
        let sheet = worksheet(file.name, &procedure(file.name), (&demo_system("gritty-tank"), 0), Units::Us);
        for item in sheet.items() {
            let texts = item.only_if.iter().chain([&item.line.text]).chain(&item.line.notes);
            for text in texts {
                let found = ["==", "<=", ">=", " != ", "known(", "worked out"]
                    .iter()
                    .find(|sign| text.contains(**sign));
                assert_eq!(found, None, "{}: {text}", file.name);
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
    assert_eq!(table.head[1..], ["58 to 38 psi", "60 to 40 psi", "62 to 42 psi"]);
    let number = |cell: &str| cell.split(' ').next().unwrap().parse::<f64>().unwrap();
    let atmosphere = 101_325.0 * (1.0 - 2.255_77e-5 * 620.0 * 0.3048f64).powf(5.255_88) / 6_894.757;
    assert_eq!(table.rows.len(), 9);
    for row in &table.rows {
        let charge = number(&row[0]);
        for (cell, (cut_out, cut_in)) in row[1..].iter().zip([(58.0, 38.0), (60.0, 40.0), (62.0, 42.0)]) {
            let air = |pressure: f64| 44.0 * (charge + atmosphere) / (pressure + atmosphere);
            let expected = air(charge.max(cut_in)) - air(cut_out);
            assert!((number(cell) - expected).abs() <= 0.051, "{charge} psi: {cell} gal, not {expected}");
        }
    }
}

/// A run of the same installation comes to the target that stands in its table, between the temperatures of the head.
#[test]
fn the_table_gives_the_target_of_the_run() {
    let demo = DEMOS.iter().find(|demo| demo.name == "gritty-tank").unwrap();
    let entries = played(demo).contents().entries;
    let number = |observed: &str| {
        let is_of =
            |entry: &&Entry| entry.observes.as_deref() == Some(observed) && entry.kind != EntryKind::Fact;
        entries.iter().find(is_of).and_then(|entry| entry.value).unwrap()
    };
    let sheet = worksheet("flush", &procedure("flush"), (&demo_system("gritty-tank"), 0), Units::Us);
    let table = sheet.tables.iter().find(|table| table.head[0] == "cut-in").unwrap();
    let lowest = entries.iter().filter(|entry| entry.observes.as_deref() == Some("cut_in"));
    let lowest = lowest.filter(|entry| entry.kind == EntryKind::Reading).filter_map(|entry| entry.value);
    let row = format!("{} psi", lowest.fold(f64::INFINITY, f64::min));
    let row = table.rows.iter().find(|cells| cells[0] == row).unwrap();
    let read = |cell: &String| cell.split(' ').next().unwrap().parse::<f64>().unwrap();
    let now = number("tank_temperature");
    let at = table.head[1..].iter().rposition(|cell| read(cell) <= now).unwrap();
    let [colder, warmer] = [at, at + 1].map(|at| (read(&table.head[1 + at]), read(&row[1 + at])));
    let between = colder.1 + (warmer.1 - colder.1) * (now - colder.0) / (warmer.0 - colder.0);
    let target = number("target_precharge");
    assert!((between - target).abs() <= 0.1, "{between} on paper, {target} in the run");
}

/// Where tanks are taken one by one, each has a place of its own.
#[test]
fn every_tank_has_its_place() {
    let sheet = worksheet("yearly", &procedure("yearly"), (&demo_system("two-tanks-spring"), 0), Units::Us);
    let read =
        sheet.items().find(|item| item.columns == ["left", "shelf"] && item.line.slot != Slot::Nothing);
    assert!(read.is_some());
    assert_eq!(sheet.tank, None);
    let called = |(id, name): (&str, &str)| (id.to_string(), Some(name.to_string()));
    assert_eq!(sheet.tanks, [("left", "the left tank"), ("shelf", "the tank on the shelf")].map(called));
}

/// What holds of one tank is not said of another: a limit that is otherwise from plate to plate is read there, of all
/// limits together the lowest counts, and the target of a tank that stands higher is less. 5 ft of water are 2.17 psi
/// (62.4 lb/ft³).
#[test]
fn a_sheet_for_several_tanks_takes_none_for_another() {
    let path = format!("{}/transcripts-demo/two-tanks-spring/system.toml", env!("CARGO_MANIFEST_DIR"));
    let told = std::fs::read_to_string(path).unwrap();
    let weaker = told.rfind("\"100 psi\"\nheight").unwrap();
    let text = format!("{}\"60 psi\"{}", &told[..weaker], &told[weaker + 9..]);
    let system = system::load(&SourceText::new("system.toml", text)).unwrap();
    let sheet = worksheet("precharge", &procedure("precharge"), (&system, 0), Units::Us);
    let text = lines(&sheet, 400);
    assert!(text.contains("plate limit left 100 psi, shelf 60 psi"), "{text}");
    assert!(text.contains("STOP over the tank's plate limit: add no air"), "{text}");
    assert!(text.contains("STOP if over 60 psi: drain open"), "{text}");
    assert!(!text.contains("over 100 psi") && !text.contains("If it is called for"), "{text}");
    let lower = text.split("At shelf ").nth(1).and_then(|rest| rest.split(" psi less.").next());
    let lower: f64 = lower.unwrap().parse().unwrap();
    assert!((lower - 2.17).abs() <= 0.11, "{lower}");
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
