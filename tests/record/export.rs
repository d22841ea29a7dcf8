//! Records exported by the real binary, and read by programs that know nothing of this one:
//! Python's csv, json and sqlite3.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Output;

use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use tankhand::record::{Entry, EntryKind, Header};
use tankhand::report::QUESTIONS;

use crate::any::{any_entries, any_header, hostile};
use crate::commands::{output_of, put, put_record};
use crate::golden::holds;
use crate::python::python;
use crate::samples::{entries, header, record, summary};
use crate::stage::{demo, played};

/// A home with the records of demonstrations.
pub fn home_of_demos(names: &[&str]) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    for name in names {
        put_record(home.path(), played(demo(name)).record.as_bytes());
    }
    home
}

/// A home with the invented record that has every kind of entry.
fn home_of_whole() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    put_record(home.path(), &record(&header(), &entries(), Some(&summary())));
    home
}

#[test]
fn an_export_is_written_as_it_always_was() {
    let home = home_of_whole();
    put_record(home.path(), played(demo("waterlogged-tank")).record.as_bytes());
    for form in ["csv", "jsonl", "sql"] {
        let text = output_of(home.path(), &["records", "export", "--format", form]);
        holds(
            &format!("tests/record/golden/export.{form}"),
            text.strip_suffix("2 files: 2 understood.\nexit 0").unwrap(),
        );
    }
}

/// What the script says of the exports of every record in a home.
fn loaded(home: &Path) -> Option<Output> {
    python("load_export.py", &["csv", "jsonl"].map(|form| exported(home, form)))
}

/// The file of an export of every record in a home.
fn exported(home: &Path, form: &str) -> PathBuf {
    let file = home.join(format!("export.{form}"));
    let to = file.to_str().unwrap();
    let told = output_of(home, &["records", "export", "--format", form, "--to", to]);
    assert!(told.ends_with("exit 0"), "{told}");
    file
}

#[test]
fn python_and_sqlite_load_an_export() {
    let home = home_of_demos(&["gritty-tank", "mountain-hut", "waterlogged-tank"]);
    let Some(output) = loaded(home.path()) else { return };
    assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
    holds("tests/record/golden/export-loaded.txt", &String::from_utf8(output.stdout).unwrap());
}

/// Ten questions have the same answers in SQLite and pandas, and these are the right ones.
#[test]
fn other_programs_answer_alike() {
    let home = home_of_demos(&["gritty-tank", "mountain-hut", "waterlogged-tank", "two-tanks-spring"]);
    let [sql, csv] = ["sql", "csv"].map(|form| exported(home.path(), form));
    let questions = home.path().join("questions.json");
    fs::write(&questions, serde_json::to_string(QUESTIONS).unwrap()).unwrap();
    let Some(output) = python("questions.py", &[sql, csv, questions]) else { return };
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(told.is_empty() || told.starts_with("SKIPPED"), "{told}");
    std::io::Write::write_all(&mut std::io::stderr(), told.as_bytes()).unwrap();
    holds("tests/record/golden/export-questions.txt", &String::from_utf8(output.stdout).unwrap());
}

#[test]
fn hostile_records_are_exported_and_loaded() {
    let home = tempfile::tempdir().unwrap();
    let mut runner = TestRunner::deterministic();
    let mut lines = 0;
    for n in 0..60 {
        let header: Header = any_header().new_tree(&mut runner).unwrap().current();
        let entries: Vec<Entry> = any_entries().new_tree(&mut runner).unwrap().current();
        lines += entries.len();
        let header = Header { id: format!("{n:02}"), ..header };
        put_record(home.path(), &record(&header, &entries, None));
    }
    let Some(output) = loaded(home.path()) else { return };
    assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
    let told = String::from_utf8(output.stdout).unwrap();
    assert_eq!(
        told.lines().next(),
        Some(format!("{lines} lines, 44 columns, the same in both files").as_str())
    );
}

/// No text of any kind makes a cell that a spreadsheet takes for a formula, or two cells of one.
#[test]
fn no_text_becomes_a_formula() {
    let home = tempfile::tempdir().unwrap();
    let mut runner = TestRunner::deterministic();
    let starts = ["=", "+", "-", "@", "\t", "\r", "=cmd|' /C x'!A0", "＝"];
    let mut texts: Vec<String> = starts.iter().map(|start| format!("{start}1+1")).collect();
    texts.extend((0..50).map(|_| hostile().new_tree(&mut runner).unwrap().current()));
    let with = |(n, text): (u64, &String)| Entry {
        n,
        given: Some(text.clone()),
        reason: Some(text.clone()),
        ..Entry::new(EntryKind::Note, text.clone(), header().started)
    };
    let entries: Vec<Entry> = (1..).zip(&texts).map(with).collect();
    put_record(home.path(), &record(&header(), &entries, None));
    let text = output_of(home.path(), &["records", "export"]);
    let mut reader =
        csv::Reader::from_reader(text.strip_suffix("1 file: 1 understood.\nexit 0").unwrap().as_bytes());
    let names = reader.headers().unwrap().clone();
    let numeric = ["utc_offset_min", "value", "si_value"];
    let mut rows = 0;
    for row in reader.records() {
        let row = row.unwrap();
        assert_eq!(row.len(), names.len());
        for (name, cell) in names.iter().zip(&row).filter(|(name, _)| !numeric.contains(name)) {
            assert!(
                !cell.starts_with(['=', '+', '-', '@', '\t', '\r', '＝']) || cell.starts_with('\n'),
                "{name}: {cell:?}"
            );
        }
        rows += 1;
    }
    assert_eq!(rows, texts.len());
}

#[test]
fn what_cannot_be_vouched_for_is_left_out_and_told() {
    let home = tempfile::tempdir().unwrap();
    let named = Header { id: "a-edited".to_string(), ..header() };
    let whole = String::from_utf8(record(&named, &entries(), Some(&summary()))).unwrap();
    let open = record(&Header { id: "b-torn".to_string(), ..header() }, &entries()[..2], None);
    put(home.path(), "a-edited", whole.replace("value = 38.0", "value = 39.0").as_bytes());
    put(home.path(), "b-torn", &open[..open.len() - 9]);
    put(home.path(), "c-no-record", b"format = 1\ntitle = \"Flush\"\n");
    let told = output_of(home.path(), &["records", "export", "--format", "csv", "--kind", "fact,done"]);
    let (lines, rest) = told.split_once("Left out:").unwrap();
    assert_eq!(
        rest,
        " HOME/records/a-edited.toml:64: entry 3 was changed after it was written\n  why: the seal on line 81 does \
         not fit the bytes before it; the change is between line 64 and there\n  what to do: bring the file back \
         from a copy; where there is none, `tankhand records mend HOME/records/a-edited.toml` saves what is whole\n\
         HOME/records/b-torn.toml:57: left out: the last entry was cut off while it was written (143 bytes from line \
         57); it was about `step-2`\n3 files: 1 understood, 1 not, 1 other (c-no-record.toml).\nexit 1"
    );
    assert_eq!(lines.lines().count(), 2, "{lines}");
}

#[test]
fn records_are_chosen_by_name_and_by_what_they_have_in_common() {
    let home = home_of_demos(&["gritty-tank", "mountain-hut", "waterlogged-tank"]);
    let records = |arguments: &[&str]| {
        let call = [&["records", "export", "--kind", "fact"], arguments].concat();
        let text = output_of(home.path(), &call);
        let mut found: Vec<String> =
            text.lines().skip(1).filter_map(|line| line.split(',').next().map(str::to_string)).collect();
        found.retain(|line| line.starts_with("203"));
        found.dedup();
        found
    };
    let [april, june, september] = ["20310405-0900-flush", "20310621-0815-flush", "20310914-1430-flush"];
    let table: &[(&[&str], &[&str])] = &[
        (&[], &[april, june, september]),
        (&["20310914-1430-flush", april], &[september, april]),
        (&["--since", "2031-06-01"], &[june, september]),
        (&["--outcome", "failed"], &[september]),
        (&["--tank", "hut"], &[june]),
        (&[april, "--tank", "hut"], &[]),
    ];
    for (arguments, expected) in table {
        assert_eq!(records(arguments), *expected, "{arguments:?}");
    }
    assert_eq!(
        output_of(home.path(), &["records", "export", "gritty-tonk"]),
        "tankhand: There is no record `gritty-tonk`: `tankhand records` lists what there is.\nexit 2"
    );
}

/// A file of a home as it is named from the folder around the home.
fn named_from_around(file: &Path) -> String {
    let around = std::env::temp_dir();
    file.strip_prefix(around).unwrap().to_str().unwrap().to_string()
}

#[test]
fn a_file_that_is_there_is_not_overwritten() {
    let home = home_of_whole();
    let file = home.path().join("precious");
    fs::write(&file, "precious").unwrap();
    assert_eq!(
        output_of(home.path(), &["records", "export", "--to", &named_from_around(&file)]),
        "tankhand: HOME/precious: it is there already, and is not overwritten\nexit 2"
    );
    assert_eq!(fs::read_to_string(&file).unwrap(), "precious");
    let nowhere = home.path().join("no/folder.csv");
    let why = fs::File::create(&nowhere).unwrap_err();
    assert_eq!(
        output_of(home.path(), &["records", "export", "--to", &named_from_around(&nowhere)]),
        format!("tankhand: HOME/no/folder.csv: {why}\nexit 2")
    );
    assert_eq!(fs::read_dir(home.path()).unwrap().count(), 2, "nothing is left behind");
}
