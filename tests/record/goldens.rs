//! Records as each version wrote them, kept for ever: every later version must read and verify
//! them, and so must a stranger.

use std::fs;
use std::path::{Path, PathBuf};

use tankhand::app::Library;
use tankhand::record::{Finding, TextRole, read, verify};
use tankhand::report::{record_page, summary_page, to_text};
use tankhand::source::SourceText;

use crate::python::python;

/// Every golden record.
fn goldens() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/record/golden");
    let mut found: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|file| file.unwrap().path()).collect();
    found.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
    found.sort();
    assert!(found.len() >= 4, "records were taken out: {found:?}");
    found
}

#[test]
fn every_old_record_is_read_and_verified() {
    for path in goldens() {
        let contents = read(&path).unwrap();
        assert_eq!((&contents.torn, contents.foreign.len()), (&None, 0), "{}", path.display());
        let outcome = contents.summary.as_ref().map(|summary| summary.outcome);
        let sound = Finding::Sound { entries: contents.entries.len() as u64, outcome };
        assert_eq!(verify(&path).unwrap(), [sound], "{}", path.display());
    }
}

/// A record stays readable when the language has moved on and its procedure is no longer taken.
#[test]
fn every_old_record_is_shown_without_its_procedure() {
    for path in goldens() {
        let contents = read(&path).unwrap();
        let whole = to_text(&record_page(&contents, None, None), 80);
        for entry in &contents.entries {
            let number = entry.n.to_string();
            let shown = |line: &String| {
                line.trim_start().trim_start_matches("x ").split_whitespace().next() == Some(&number)
            };
            assert!(whole.iter().any(shown), "{}: entry {number}", path.display());
        }
        assert!(!to_text(&summary_page(&contents, None), 80).is_empty());
    }
}

/// This version still takes the procedures that were kept: a run could be gone on with.
#[test]
fn the_kept_procedures_of_shipped_demonstrations_load() {
    for path in goldens().iter().filter(|path| !path.ends_with("format-1-whole.toml")) {
        let texts = read(path).unwrap().header.texts;
        let main = texts.iter().find(|text| text.role == TextRole::Procedure).unwrap();
        let source = SourceText::new(main.name.as_str(), main.text.clone());
        if let Err(faults) = Library::of_record(&texts).load_source(&source) {
            panic!("{}: {}", path.display(), faults[0].heading());
        }
    }
}

#[test]
fn a_stranger_reads_and_verifies_every_old_record() {
    for path in goldens() {
        let Some(output) = python("read_record.py", &[&path]) else { return };
        assert_eq!(String::from_utf8(output.stderr).unwrap(), "", "{}", path.display());
        let contents = read(&path).unwrap();
        let told = String::from_utf8(output.stdout).unwrap();
        let last = format!("{}\t0", contents.summary.map_or("not ended", |summary| summary.outcome.word()));
        assert_eq!(told.lines().last(), Some(last.as_str()));
    }
}
