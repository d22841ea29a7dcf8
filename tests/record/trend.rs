//! The trend of a tank's air, told by the real binary from invented records; whole outputs, and
//! the loss that was put in comes out again.

use std::path::Path;

use proptest::prelude::*;
use tankhand::physics::charge_at;
use tankhand::quantity::Units;
use tankhand::record::{Contents, Entry, EntryKind, Header, Outcome, Summary};
use tankhand::report::{TrendOrder, Visit, to_text, trend_page};

use crate::commands::{put, told};
use crate::export::assert_golden;
use crate::samples::{header, moment, record, summary};

const PSI: f64 = 6_894.757_293_168_361;

/// What an invented visit read: day, °F, air found and left in psi.
#[derive(Clone, Copy)]
struct Read<'a> {
    day: &'a str,
    warmth: f64,
    found: Option<f64>,
    left: Option<f64>,
}

fn read(day: &str, warmth: f64, found: Option<f64>, left: Option<f64>) -> Read<'_> {
    Read { day, warmth, found, left }
}

fn visit(read: Read<'_>) -> (Header, Vec<Entry>) {
    let started = moment(&format!("{}T09:00:00-05:00", read.day));
    let header = Header {
        id: format!("{}-0900-flush", read.day.replace('-', "")),
        tank: Some("cellar".to_string()),
        started,
        ..header()
    };
    let number = |kind, step: &str, value: f64, unit: &str, u: f64| Entry {
        value: Some(value),
        unit: Some(unit.to_string()),
        uncertainty: (u > 0.0).then_some(u),
        ..Entry::new(kind, step, started)
    };
    let computed = |step: &str, value| number(EntryKind::Computed, step, value, "psi", 0.3);
    let mut entries = vec![
        number(EntryKind::Fact, "elevation", 600.0, "ft", 0.0),
        number(EntryKind::Reading, "air_temp", read.warmth, "°F", 1.0),
    ];
    entries.extend(read.found.map(|found| computed("found", found)));
    entries.extend(read.left.map(|_| computed("target", 36.0)));
    entries.extend(read.left.map(|left| computed("charge_left", left)));
    for (entry, n) in entries.iter_mut().zip(1..) {
        entry.n = n;
    }
    (header, entries)
}

fn home_of(visits: &[Read<'_>]) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    for one in visits {
        let (header, entries) = visit(*one);
        put(
            home.path(),
            &header.id,
            &record(&header, &entries, Some(&Summary { outcome: Outcome::Completed, ..summary() })),
        );
    }
    home
}

fn golden(name: &str, home: &Path, arguments: &[&str]) {
    let text = told(home, &[&["trend"], arguments].concat());
    assert_golden(&format!("trend-{name}.txt"), text.strip_suffix("exit 0").unwrap_or(&text));
}

#[test]
fn a_tank_that_loses_air_is_told() {
    let home = home_of(&[
        read("2031-04-05", 52.0, Some(27.3), Some(36.0)),
        read("2032-04-10", 50.0, Some(32.6), Some(36.0)),
        read("2033-04-02", 55.0, Some(33.1), Some(36.0)),
        read("2033-10-02", 60.0, Some(34.8), None),
    ]);
    golden("losing", home.path(), &["cellar"]);
    golden("losing", home.path(), &[]);
}

#[test]
fn a_tank_that_holds_is_told() {
    let home = home_of(&[
        read("2031-04-05", 52.0, Some(30.0), Some(36.0)),
        read("2032-04-10", 40.0, Some(34.8), None),
        read("2033-04-02", 66.0, Some(37.3), None),
        read("2034-04-02", 52.0, Some(35.8), None),
    ]);
    golden("steady", home.path(), &["cellar"]);
}

#[test]
fn too_few_readings_tell_nothing_and_say_what_would() {
    let home = home_of(&[read("2031-04-05", 52.0, Some(27.3), Some(36.0))]);
    golden("one", home.path(), &["cellar"]);
    let home = home_of(&[
        read("2031-04-05", 52.0, Some(27.3), Some(36.0)),
        read("2031-06-05", 52.0, Some(35.6), None),
    ]);
    golden("two", home.path(), &["cellar"]);
}

#[test]
fn calls_that_are_wrong_are_told() {
    let home = home_of(&[read("2031-04-05", 52.0, Some(27.3), Some(36.0))]);
    for (arguments, expected) in [
        (
            &["trend", "celler"][..],
            "tankhand: No record is of a tank `celler`: did you mean `cellar`?\nexit 2",
        ),
        (
            &["trend", "--band", "2 gal"],
            "tankhand: --band: gal measures a volume, and a gauge pressure is wanted: psi, bar, kPa or mbar.\nexit 2",
        ),
        (
            &["trend", "--band", "-2"],
            "tankhand: --band: the charge may stray by more than nothing and by 50 psi at most\nexit 2",
        ),
    ] {
        assert_eq!(told(home.path(), arguments), expected);
    }
    let empty = tempfile::tempdir().unwrap();
    assert_eq!(
        told(empty.path(), &["trend"]),
        "tankhand: No record names a tank yet. `tankhand run flush` begins one.\nexit 2"
    );
}

#[test]
fn the_page_is_written_as_html_too() {
    let home =
        home_of(&[read("2031-04-05", 52.0, None, Some(36.0)), read("2032-04-10", 50.0, Some(32.6), None)]);
    let file = home.path().join("cellar.html");
    let shown = told(home.path(), &["trend", "--html", file.to_str().unwrap()]);
    assert!(shown.ends_with("\nHOME/cellar.html written.\nexit 0"), "{shown}");
    let html = std::fs::read_to_string(&file).unwrap();
    assert!(html.starts_with("<!DOCTYPE html>") && html.contains("<svg"));
    // It can be made again at any time, so it is replaced; what is not its own is left alone.
    let again = told(home.path(), &["trend", "--html", file.to_str().unwrap()]);
    assert!(again.ends_with("\nHOME/cellar.html written.\nexit 0"), "{again}");
    std::fs::write(&file, "notes of my own").unwrap();
    let foreign = told(home.path(), &["trend", "--html", file.to_str().unwrap()]);
    assert!(foreign.ends_with("exit 2") && !foreign.contains("cellar.html written."), "{foreign}");
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "notes of my own");
}

/// What a page says of these visits, first paragraph.
fn verdict(visits: &[Read<'_>]) -> String {
    let told: Vec<Visit> = visits
        .iter()
        .filter_map(|one| {
            let (header, entries) = visit(*one);
            let contents =
                Contents { header, entries, foreign: Vec::new(), summary: Some(summary()), torn: None };
            Visit::of(&contents, Some("cellar"))
        })
        .collect();
    let order = TrendOrder {
        tank: Some("cellar"),
        site: None,
        band: 2.0 * PSI,
        units: Units::Us,
        open: 0,
        broken: 0,
        elsewhere: &[],
    };
    to_text(&trend_page(&told, &order), 120)[3].clone()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// However the weather was, and though the air is set anew each year: a true loss is found,
    /// and air that only cools is no loss.
    #[test]
    fn the_weather_is_no_loss(
        weather in proptest::collection::vec(35.0f64..85.0, 4),
        loses in any::<bool>(),
    ) {
        let loss = if loses { 4.0 } else { 0.0 };
        let years = ["2031-04-05", "2032-04-05", "2033-04-05", "2034-04-05"];
        let kelvin = |f: f64| (f + 459.67) / 1.8;
        let read_at = |charge: f64, f: f64| {
            charge_at(charge * PSI, kelvin(60.0), kelvin(f), 600.0 * 0.3048).unwrap() / PSI
        };
        let visits: Vec<Read> = years.iter().zip(&weather).map(|(day, f)| {
            read(day, *f, Some(read_at(36.0 - loss, *f)), Some(read_at(36.0, *f)))
        }).collect();
        let expected = if loses { "Losing air: " } else { "Steady: " };
        let said = verdict(&visits);
        prop_assert!(said.starts_with(expected), "{}", said);
    }
}
