//! Every trouble with a record, as a person is told of it.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use tankhand::record::{Edit, Outcome, Section, Trouble};

use crate::golden::holds;

fn troubles() -> Vec<Trouble> {
    let edited = |section, first_line, seal_line| {
        Trouble::Edited(Edit { section, first_line, seal_line, missing_from: None })
    };
    let refused = |kind| Trouble::Io { doing: "read", kind, error: "as the machine says it".to_string() };
    let saved_in = |folder: PathBuf| Some(folder.join("it-saved-1.toml"));
    let saved = || Some(PathBuf::from("it-saved-1.toml"));
    let id = || "20310405-0901-flush".to_string();
    vec![
        Trouble::Missing,
        Trouble::NotAFile("a link"),
        refused(ErrorKind::PermissionDenied),
        refused(ErrorKind::ReadOnlyFilesystem),
        refused(ErrorKind::StorageFull),
        refused(ErrorKind::NotADirectory),
        refused(ErrorKind::NotFound),
        refused(ErrorKind::Other),
        Trouble::Empty,
        Trouble::TooLarge { bytes: 99_000_000 },
        Trouble::NotARecord,
        Trouble::Newer { format: 2 },
        Trouble::HeadTorn,
        Trouble::StartDamaged,
        Trouble::ByteOrderMark,
        Trouble::LineEnds,
        Trouble::OddName,
        Trouble::Renamed { id: id() },
        Trouble::Twice { id: id(), other: PathBuf::from("other.toml") },
        Trouble::NothingWhole,
        Trouble::OnlyNamed,
        Trouble::OnlyTorn { line: 8, message: "the last entry was cut off".to_string() },
        Trouble::MendedBefore { before: PathBuf::from("it-mended.toml") },
        Trouble::NothingToMend,
        Trouble::Incomplete,
        edited(Section::Head, 4, 14),
        edited(Section::Entry(3), 20, 25),
        edited(Section::Result, 30, 35),
        // Nothing but the line of a seal was changed.
        edited(Section::Head, 14, 14),
        edited(Section::Entry(3), 25, 25),
        Trouble::Added { line: 40, bytes: 7 },
        Trouble::Unclear { line: 50, message: "`n` is missing".to_string() },
        Trouble::Foreign { n: 2, kind: "photo\u{1b}graphed".to_string() },
        Trouble::Finished(Outcome::Failed),
        Trouble::Exists,
        Trouble::Busy,
        Trouble::BadName("../x".to_string()),
        Trouble::Unwritable { n: 0, message: "too long".to_string() },
        Trouble::Unwritable { n: 3, message: "no number".to_string() },
        Trouble::Lost { kept: 1, doing: "sync", error: "disk full".to_string(), saved: None },
        Trouble::Lost { kept: 1, doing: "write", error: "disk full".to_string(), saved: saved() },
        Trouble::Displaced { how: "was moved or deleted", saved: saved() },
        Trouble::Displaced { how: "was replaced by another file", saved: None },
        Trouble::Displaced { how: "was moved or deleted", saved: saved_in(PathBuf::from("around it")) },
        Trouble::Closed { kept: 2 },
    ]
}

/// What stands among the temporary files may be gone after a restart.
#[test]
fn what_a_restart_may_delete_is_told() {
    let saved = Some(std::env::temp_dir().join("it-saved-1.toml"));
    let how = "was moved or deleted";
    let told = Trouble::Displaced { how, saved }.at(Path::new("records/it.toml")).to_string();
    let end = "; a restart may delete it: make room, then move it to records/it.toml";
    assert!(told.ends_with(end), "{told}");
}

/// Each trouble by itself, then with its file, its reason and what to do.
#[test]
fn every_trouble_is_told_in_words() {
    let one = |trouble: Trouble| format!("{trouble}\n{}\n", trouble.clone().at(Path::new("it.toml")));
    let all: Vec<String> = troubles().into_iter().map(one).collect();
    holds("tests/record/golden/troubles.txt", &all.join("\n"));
}
