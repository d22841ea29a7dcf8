//! The logbook, its calendar, two records compared, and a report without identity; told by the real binary.

use std::fs;

use crate::commands::output_of;
use crate::export::home_of_demos;
use crate::golden::holds;

#[test]
fn every_tank_stands_in_the_logbook_with_what_is_due() {
    let home = home_of_demos(&["gritty-tank", "mountain-hut", "waterlogged-tank", "two-tanks-spring"]);
    let file = home.path().join("due.ics");
    let text = output_of(home.path(), &["logbook", "--ics", file.to_str().unwrap()]);
    holds("tests/record/golden/logbook.txt", text.strip_suffix("exit 0").unwrap());
    holds("tests/record/golden/logbook.ics", &fs::read_to_string(&file).unwrap().replace("\r\n", "\n"));
    let empty = tempfile::tempdir().unwrap();
    assert_eq!(
        output_of(empty.path(), &["logbook"]),
        "Logbook\n=======\n\nNo closed record names a tank yet. `tankhand run flush` begins one.\n\nThere is no folder HOME/records: no run has been recorded here yet, or the folder was moved or\n\
         deleted.\nexit 0"
    );
}

#[test]
fn two_records_stand_side_by_side() {
    let home = home_of_demos(&["gritty-tank", "waterlogged-tank"]);
    let text = output_of(home.path(), &["records", "compare", "20310405-0900-flush", "20310914-1430-flush"]);
    holds("tests/record/golden/compare.txt", text.strip_suffix("exit 0").unwrap());
}

/// Nothing that tells whose a record is stands in such a report, nor does the record itself.
#[test]
fn a_report_without_identity_names_nobody() {
    let home = home_of_demos(&["gritty-tank", "two-tanks-spring"]);
    for (record, names) in [
        ("20310405-0900-flush", &["Alder Hollow", "0417", "old blue tank", "Grit as fine", "0900-flush"][..]),
        ("20320410-0900-yearly", &["Fern Gully", "shelf", "0900-yearly"]),
    ] {
        let told = |form: &[&str]| output_of(home.path(), &[&["records", "report", record], form].concat());
        for form in [&["--text"][..], &["--html", "-"], &["--brief"]] {
            let whole = told(form);
            let without = told(&[form, &["--without-identity"]].concat());
            for name in names {
                let both = (whole.contains(name), without.contains(name));
                assert!(!both.1, "{record} {form:?}: {name}");
            }
            assert!(!without.contains("base64") && without.ends_with("exit 0"));
            let inside = |(at, found): (usize, &str)| {
                let letter = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
                letter(without[..at].chars().next_back())
                    || letter(without[at + found.len()..].chars().next())
            };
            assert!(!without.match_indices("(withheld)").any(inside), "{record} {form:?}");
        }
    }
}
