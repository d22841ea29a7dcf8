//! Records as each version wrote them, kept for ever, byte by byte: every later version must read
//! and verify them, and so must a stranger. The records of demonstrations are held beside them.

use std::fs;
use std::path::{Path, PathBuf};

use tankhand::record::{Contents, Entry, Header, Outcome, Verification, read, verify};
use tankhand::report::{RunView, record_page, summary_page, to_text};

use crate::golden::{holds, in_project};
use crate::python::python;
use crate::samples::{entries, header, record, summary};
use crate::stage::{demo, played};

const WHOLE: &str = "tests/record/golden/format-1-whole.toml";
const TWO_TANKS: &str = "tests/record/golden/format-1-two-tanks.toml";

/// A record of two tanks, taken one by one.
fn of_two_tanks() -> (Header, Vec<Entry>) {
    let header = Header { tank: None, tanks: vec!["left".to_string(), "right".to_string()], ..header() };
    let mut entries = entries();
    for (entry, tank) in entries.iter_mut().zip(["left", "right"].into_iter().cycle()) {
        entry.tank = Some(tank.to_string());
    }
    (header, entries)
}

/// The records this version writes: each in its file, byte by byte.
fn written() -> [(&'static str, Header, Vec<Entry>); 2] {
    let (of_two, their) = of_two_tanks();
    let written = [(WHOLE, header(), entries()), (TWO_TANKS, of_two, their)];
    for (path, header, entries) in &written {
        holds(path, &String::from_utf8(record(header, entries, Some(&summary()))).unwrap());
    }
    written
}

#[test]
fn records_are_written_as_they_always_were_and_stay_readable() {
    for (path, header, entries) in written() {
        let contents = read(&in_project(path)).unwrap();
        let summary = Some(summary());
        let expected = Contents { header, entries, foreign: Vec::new(), summary, torn: None };
        assert_eq!(contents, expected);
        let found = verify(&in_project(path)).unwrap();
        assert_eq!(found, [Verification::Sound { entries: 19, outcome: Some(Outcome::Failed) }]);
        assert_eq!(found[0].to_string(), "every seal holds: 19 entries, failed");
    }
}

/// Every kept record, and those of three demonstrations in a folder of their own.
fn every_record(folder: &Path) -> Vec<PathBuf> {
    let least = written().len();
    let kept = fs::read_dir(in_project("tests/record/golden")).unwrap().map(|file| file.unwrap().path());
    let mut found: Vec<PathBuf> =
        kept.filter(|path| path.extension().is_some_and(|it| it == "toml")).collect();
    assert!(found.len() >= least, "records were taken out: {found:?}");
    found.extend(
        ["gritty-tank", "mountain-hut", "two-tanks-spring"].map(|name| played(demo(name)).put(folder)),
    );
    found
}

#[test]
fn every_record_is_read_and_verified() {
    let folder = tempfile::tempdir().unwrap();
    for path in every_record(folder.path()) {
        let contents = read(&path).unwrap();
        assert_eq!((&contents.torn, contents.foreign.len()), (&None, 0), "{}", path.display());
        let outcome = contents.summary.as_ref().map(|summary| summary.outcome);
        let sound = Verification::Sound { entries: contents.entries.len() as u64, outcome };
        assert_eq!(verify(&path).unwrap(), [sound], "{}", path.display());
    }
}

/// A record stays readable when the language has moved on and its procedure is no longer taken.
#[test]
fn every_record_is_shown_without_its_procedure() {
    let folder = tempfile::tempdir().unwrap();
    for path in every_record(folder.path()) {
        let contents = read(&path).unwrap();
        let whole = to_text(&record_page(&RunView::new(&contents, None), None), 80);
        for entry in &contents.entries {
            let number = entry.n.to_string();
            let shown = |line: &String| {
                line.trim_start().trim_start_matches("x ").split_whitespace().next() == Some(&number)
            };
            assert!(whole.iter().any(shown), "{}: entry {number}", path.display());
        }
        assert!(!to_text(&summary_page(&RunView::new(&contents, None)), 80).is_empty());
    }
}

#[test]
fn a_stranger_reads_and_verifies_every_record() {
    let folder = tempfile::tempdir().unwrap();
    for path in every_record(folder.path()) {
        let Some(output) = python("read_record.py", &[&path]) else { return };
        assert_eq!(String::from_utf8(output.stderr).unwrap(), "", "{}", path.display());
        let contents = read(&path).unwrap();
        let told = String::from_utf8(output.stdout).unwrap();
        let last = format!("{}\t0", contents.summary.map_or("not ended", |summary| summary.outcome.word()));
        assert_eq!(told.lines().last(), Some(last.as_str()));
    }
}
