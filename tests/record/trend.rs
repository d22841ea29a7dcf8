//! The trend of a tank's air, told by the real binary from invented records; whole outputs, and
//! the loss that was put in comes out again.

use std::path::Path;

use proptest::prelude::*;
use tankhand::physics::precharge_at;
use tankhand::quantity::Units;
use tankhand::record::{Contents, Entry, EntryKind, Header, Outcome, Phase, Summary};
use tankhand::report::{TrendOrder, Visit, to_text, trend_page};

use crate::commands::{output_of, put};
use crate::golden::holds;
use crate::samples::{header, moment, record, summary};

const PSI: f64 = 6_894.757_293_168_361;

/// What an invented visit read: day, °F, air found and left in psi.
#[derive(Clone, Copy)]
struct Read<'a> {
    day: &'a str,
    warmth: f64,
    found: Option<f64>,
    left: Option<f64>,
    /// Drawdown as found, gal.
    caught: Option<f64>,
}

fn read(day: &str, warmth: f64, found: Option<f64>, left: Option<f64>) -> Read<'_> {
    Read { day, warmth, found, left, caught: None }
}

fn visit(read: Read<'_>) -> (Header, Vec<Entry>) {
    let started = moment(&format!("{}T09:00:00-05:00", read.day));
    let header = Header {
        id: format!("{}-0900-flush", read.day.replace('-', "")),
        tank: Some("cellar".to_string()),
        started,
        ..header()
    };
    // Steps may be called what they like: a trend goes by what they are of.
    let number = |kind, (observable, phase): (&str, Option<Phase>), value: f64, unit: &str, u: f64| Entry {
        observes: Some(observable.to_string()),
        phase,
        value: Some(value),
        unit: Some(unit.to_string()),
        uncertainty: (u > 0.0).then_some(u),
        ..Entry::new(kind, "mine", started)
    };
    let computed = |of, value| number(EntryKind::Computed, of, value, "psi", 0.3);
    let (found, left) = (Some(Phase::Found), Some(Phase::Left));
    let mut entries = vec![
        number(EntryKind::Fact, ("elevation", None), 600.0, "ft", 0.0),
        number(EntryKind::Reading, ("tank_temperature", found), read.warmth, "°F", 1.0),
    ];
    entries.extend(read.found.map(|value| computed(("precharge", found), value)));
    entries.extend(read.left.map(|_| computed(("target_precharge", None), 36.0)));
    entries
        .extend(read.caught.map(|value| number(EntryKind::Reading, ("drawdown", found), value, "gal", 0.2)));
    entries.extend(read.left.map(|value| computed(("precharge", left), value)));
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
    let text = output_of(home, &[&["trend"], arguments].concat());
    holds(&format!("tests/record/golden/trend-{name}.txt"), text.strip_suffix("exit 0").unwrap_or(&text));
}

#[test]
fn a_tank_that_loses_air_is_told() {
    let home = home_of(&[
        Read { caught: Some(8.6), ..read("2031-04-05", 52.0, Some(27.3), Some(36.0)) },
        Read { caught: Some(10.1), ..read("2032-04-10", 50.0, Some(32.6), Some(36.0)) },
        Read { caught: Some(10.3), ..read("2033-04-02", 55.0, Some(33.1), Some(36.0)) },
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
            "tankhand: --band: gal measures a volume, and a gauge pressure is wanted: psi, bar, kPa, mbar or MPa.\nexit 2",
        ),
        (
            &["trend", "--band", "-2"],
            "tankhand: --band: the precharge may stray by more than nothing and by 50 psi at most\nexit 2",
        ),
    ] {
        assert_eq!(output_of(home.path(), arguments), expected);
    }
    let empty = tempfile::tempdir().unwrap();
    assert_eq!(
        output_of(empty.path(), &["trend"]),
        "tankhand: No record names a tank yet. `tankhand run flush` begins one. There is no folder\nHOME/records: no run \
         has been recorded here yet, or the folder was moved or deleted.\nexit 2"
    );
}

#[test]
fn the_page_is_written_as_html_too() {
    let home =
        home_of(&[read("2031-04-05", 52.0, None, Some(36.0)), read("2032-04-10", 50.0, Some(32.6), None)]);
    let file = home.path().join("cellar.html");
    let shown = output_of(home.path(), &["trend", "--html", file.to_str().unwrap()]);
    assert!(shown.ends_with("\nHOME/cellar.html written.\nexit 0"), "{shown}");
    let html = std::fs::read_to_string(&file).unwrap();
    assert!(html.starts_with("<!DOCTYPE html>") && html.contains("<svg"));
    let again = output_of(home.path(), &["trend", "--html", file.to_str().unwrap()]);
    assert_eq!(again, shown, "a page that was made before is made anew");
    std::fs::write(&file, "my own page").unwrap();
    let refused = output_of(home.path(), &["trend", "--html", file.to_str().unwrap()]);
    let why = "another file stands there, and is not overwritten. Name another with --html.";
    let words = refused.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.ends_with(&format!("tankhand: HOME/cellar.html: {why} exit 2")), "{refused}");
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "my own page");
}

/// Tanks of one name at two places are two tanks, and what cannot be read is told.
#[test]
fn tanks_elsewhere_and_broken_records_are_not_counted() {
    let home =
        home_of(&[read("2032-04-05", 52.0, None, Some(36.0)), read("2033-04-10", 52.0, Some(35.8), None)]);
    let (header, entries) = visit(read("2031-04-05", 52.0, None, Some(20.0)));
    let header = Header { site: Some("Far Bank".to_string()), ..header };
    put(home.path(), &header.id, &record(&header, &entries, Some(&summary())));
    put(home.path(), "20340101-0000-flush", b"# The record of one run of a procedure, kept");
    let other = "Not counted, for it stands elsewhere: the tank of that name at";
    let page = output_of(home.path(), &["trend", "cellar"]);
    assert!(page.contains("At Invented \"Cottage\"."), "{page}");
    let words = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains(&format!("{other} Far Bank. Name a place with --site.")), "{words}");
    assert!(words.contains("4 files: 3 understood, 1 not."), "{words}");
    let far = output_of(home.path(), &["trend", "cellar", "--site", "Far Bank"]);
    assert!(far.contains("At Far Bank.") && far.contains("20 psi") && !far.contains("2033-04-10"), "{far}");
    assert_eq!(
        output_of(home.path(), &["trend", "cellar", "--site", "Far Bnk"]),
        "tankhand: No record of the tank is from `Far Bnk`: did you mean `Far Bank`? But 1 file among the\n\
         records cannot be understood: `tankhand records` says which, and why.\nexit 2"
    );
}

/// A run that takes the tanks one by one counts for each of them, and for no other.
#[test]
fn a_record_of_several_tanks_counts_for_each() {
    let home = home_of(&[read("2031-04-05", 52.0, None, Some(36.0))]);
    let (header, entries) = visit(read("2032-04-05", 52.0, Some(35.0), None));
    let of = |tank: &str, more: f64| {
        let tank = tank.to_string();
        entries.iter().filter(|e| e.kind != EntryKind::Fact).cloned().map(move |mut entry| {
            entry.tank = Some(tank.clone());
            let found = entry.observes.as_deref() == Some("precharge");
            entry.value = entry.value.map(|value| if found { value + more } else { value });
            entry
        })
    };
    let mut both: Vec<Entry> = of("cellar", 0.0).chain(of("barn", 5.0)).collect();
    both.iter_mut().zip(1..).for_each(|(entry, n)| entry.n = n);
    let tanks = vec!["cellar".to_string(), "barn".to_string()];
    let header = Header { tank: None, tanks, ..header };
    put(home.path(), &header.id, &record(&header, &both, Some(&summary())));
    let cellar = output_of(home.path(), &["trend", "cellar"]);
    assert!(cellar.contains("35 psi") && !cellar.contains("40 psi  "), "{cellar}");
    let barn = output_of(home.path(), &["trend", "barn"]);
    assert!(barn.contains("2032-04-05  found  52 °F    40 psi"), "{barn}");
    let listed = output_of(home.path(), &["records", "--tank", "barn"]);
    assert!(listed.contains("cellar and barn") && !listed.contains("20310405"), "{listed}");
    let export = output_of(home.path(), &["records", "export", "--tank", "barn"]);
    assert_eq!(export.lines().filter(|line| line.starts_with("20320405")).count(), of("barn", 0.0).count());
    assert!(!export.contains(",cellar,"), "{export}");
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
        tank: Some("tank cellar"),
        band: 2.0 * PSI,
        units: Units::Us,
        open: 0,
        site: None,
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
            precharge_at(charge * PSI, kelvin(60.0), kelvin(f), 600.0 * 0.3048).unwrap() / PSI
        };
        let visits: Vec<Read> = years.iter().zip(&weather).map(|(day, f)| {
            read(day, *f, Some(read_at(36.0 - loss, *f)), Some(read_at(36.0, *f)))
        }).collect();
        let expected = if loses { "Losing air: " } else { "Steady: " };
        let said = verdict(&visits);
        prop_assert!(said.starts_with(expected), "{}", said);
    }
}
