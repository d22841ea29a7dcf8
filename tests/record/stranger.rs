//! A stranger with other tools reads and checks a record: Python's own library, and a shell.

use std::path::Path;
use std::process::Output;

use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use tankhand::record::{Entry, Header};

use crate::any::{any_entries, any_header};
use crate::python::python;
use crate::samples::{entries, header, record, summary};

fn read_by_python(path: &Path) -> Option<Output> {
    python("read_record.py", &[path])
}

/// A float as Python writes it; both write the fewest digits that lead back to it.
fn python_float(number: f64) -> String {
    let size = number.abs();
    if number == 0.0 || (1e-4..1e16).contains(&size) {
        return format!("{number:?}");
    }
    let text = format!("{number:e}");
    let (digits, power) = text.split_once('e').unwrap();
    let (sign, power) = power.strip_prefix('-').map_or(('+', power), |power| ('-', power));
    format!("{digits}e{sign}{power:0>2}")
}

/// What the script prints.
fn expected(header: &Header, entries: &[Entry], last: &str) -> String {
    let mut out = format!("{}\t{}\t{}\n", header.id, header.title, header.started);
    for e in entries {
        let given = e.given.as_deref().unwrap_or("None");
        let value = e.value.map_or("None".to_string(), python_float);
        out += &format!("{}\t{}\t{}\t{}\t{given}\t{value}\n", e.n, e.kind.word(), e.step, e.at);
    }
    out + last + "\n"
}

#[test]
fn python_reads_and_checks_a_record() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("it.toml");
    let whole = record(&header(), &entries(), Some(&summary()));
    let open = record(&header(), &entries(), None);
    for (bytes, last) in
        [(&whole[..], "failed\t0"), (&open[..], "not ended\t0"), (&whole[..open.len() + 5], "not ended\t5")]
    {
        std::fs::write(&path, bytes).unwrap();
        let Some(output) = read_by_python(&path) else { return };
        assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
        assert_eq!(String::from_utf8(output.stdout).unwrap(), expected(&header(), &entries(), last));
    }
}

#[test]
fn python_finds_an_edit() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("it.toml");
    let start = record(&header(), &entries()[..2], None).len();
    let seal = record(&header(), &entries()[..3], None).len() - "seal = \"\"\n".len() - 64;
    let whole = String::from_utf8(record(&header(), &entries(), None)).unwrap();
    std::fs::write(&path, whole.replace("value = 38.0", "value = 39.0")).unwrap();
    let Some(output) = read_by_python(&path) else { return };
    let told = String::from_utf8(output.stderr).unwrap();
    assert_eq!(told, format!("changed between byte {start} and byte {seal}\n"));
}

#[test]
fn python_reads_hostile_records() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("it.toml");
    let mut runner = TestRunner::deterministic();
    for _ in 0..20 {
        let header = any_header().new_tree(&mut runner).unwrap().current();
        let entries = any_entries().new_tree(&mut runner).unwrap().current();
        std::fs::write(&path, record(&header, &entries, None)).unwrap();
        let Some(output) = read_by_python(&path) else { return };
        assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
        assert_eq!(String::from_utf8(output.stdout).unwrap(), expected(&header, &entries, "not ended\t0"));
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_seal_can_be_checked_in_a_shell() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("record.toml"), record(&header(), &entries(), Some(&summary())))
        .unwrap();
    let output = std::process::Command::new("sh")
        .arg("-c")
        .arg(tankhand::report::SHELL)
        .current_dir(folder.path())
        .output()
        .unwrap();
    assert_eq!(String::from_utf8(output.stdout).unwrap(), "holds\n".repeat(21));
}
