//! A folder of records at a glance.

use std::fs;
use std::path::Path;

use tankhand::record::{
    FolderAccount, Glance, Grade, Header, KeptText, Outcome, RecordList, Recorder, Summary, TextRole,
    Trouble, Verification, glance, last_seal, list, read, verify_bytes,
};

use crate::samples::{entries, header, moment, record, summary};

fn put(folder: &Path, id: &str, bytes: &[u8]) {
    fs::write(folder.join(format!("{id}.toml")), bytes).unwrap();
}

fn begun_at(id: &str, time: &str) -> Header {
    Header { id: id.to_string(), started: moment(time), ..header() }
}

#[test]
fn the_latest_run_comes_first_and_foreign_files_are_passed_over() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path();
    // By the clocks on the wall `a` would be the later one.
    put(folder, "a", &record(&begun_at("a", "2031-04-05T12:00:00+02:00"), &entries(), Some(&summary())));
    put(folder, "b", &record(&begun_at("b", "2031-04-05T11:00:00Z"), &entries()[..2], None));
    put(folder, "c", &record(&begun_at("c", "2032-01-01T00:00:00Z"), &[], None));
    put(folder, "torn", &record(&header(), &[], None)[..300]);
    put(folder, "procedure", b"format = 1\ntitle = \"Flush\"\n");
    put(folder, ".hidden", b"");
    fs::write(folder.join("notes.txt"), "x").unwrap();
    fs::create_dir(folder.join("folder.toml")).unwrap();
    let RecordList { records, account } = list(folder).unwrap();
    let told: Vec<_> = records.into_iter().map(|glance| (glance.id, glance.outcome)).collect();
    let expected =
        [("c".to_string(), None), ("b".to_string(), None), ("a".to_string(), Some(Outcome::Failed))];
    assert_eq!(told, expected);
    let expected = FolderAccount {
        files: 7,
        understood: 3,
        not_understood: 2,
        others: 2,
        faults: vec![
            Trouble::NotAFile("a folder").at(&folder.join("folder.toml")),
            Trouble::HeadTorn.at(&folder.join("torn.toml")),
        ],
        named: vec!["notes.txt".to_string(), "procedure.toml".to_string()],
        ..FolderAccount::default()
    };
    assert_eq!(account, expected);
    assert_eq!(list(&folder.join("none")).unwrap(), RecordList::default());
}

#[test]
fn a_glance_tells_what_the_record_does_however_large_it_is() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("it.toml");
    let long = |n: usize| "[result]\nA long line of an invented text.\n".repeat(n);
    for texts in [0, 1, 1000] {
        for words in [0, 1000] {
            for ended in [false, true] {
                let kept = KeptText { role: TextRole::System, name: long(texts), text: long(texts).into() };
                let header = Header { texts: vec![kept], ..header() };
                let summary = Summary { words: long(words), ..summary() };
                let mut told = entries();
                told[14].said = Some(long(words));
                fs::write(&path, record(&header, &told, ended.then_some(&summary))).unwrap();
                let expected = Glance {
                    path: path.clone(),
                    id: header.id,
                    procedure: header.procedure,
                    title: header.title,
                    started: header.started,
                    site: header.site,
                    tanks: vec!["main".to_string()],
                    demo: true,
                    practice: false,
                    transcribed: false,
                    mended: None,
                    unsealed_end: false,
                    outcome: ended.then_some(summary.outcome),
                    grade: ended.then_some(Grade::Stop),
                    found: if ended { summary.found } else { Vec::new() },
                    ended: ended.then_some(summary.at),
                };
                assert_eq!(glance(&path).unwrap(), expected);
            }
        }
    }
}

/// What begins as a record and is none was one; anything else is passed over, however long it is.
#[test]
fn a_damaged_record_is_told_of_and_other_files_are_not() {
    let home = tempfile::tempdir().unwrap();
    let whole = String::from_utf8(record(&header(), &[], None)).unwrap();
    put(home.path(), "damaged", whole.replacen("format = 1", "fxrmat = 1", 1).as_bytes());
    put(home.path(), "long", b"format = 1\ntitle = \"Flush the tank in spring\"\n");
    put(home.path(), "remark", &whole.as_bytes()[..29]);
    let FolderAccount { faults, named, .. } = list(home.path()).unwrap().account;
    assert_eq!(faults, [Trouble::StartDamaged.at(&home.path().join("damaged.toml"))]);
    assert_eq!(named, ["long.toml", "remark.toml"]);
}

/// Of very many faulty files their number is told, and two hundred by name.
#[test]
fn two_hundred_faulty_files_are_named() {
    let home = tempfile::tempdir().unwrap();
    for n in 0..202 {
        put(home.path(), &format!("empty-{n}"), b"");
    }
    let FolderAccount { not_understood, faults, .. } = list(home.path()).unwrap().account;
    assert_eq!((not_understood, faults.len()), (202, 200));
}

#[test]
fn a_folder_that_cannot_be_read_is_told_of() {
    let home = tempfile::tempdir().unwrap();
    put(home.path(), "file", b"");
    let path = home.path().join("file.toml");
    let fault = list(&path).unwrap_err();
    assert!(fault.path == path && matches!(fault.trouble, Trouble::Io { doing: "read", .. }), "{fault}");
}

/// Of a record that was cut off or edited, too.
#[test]
fn the_last_seal_is_the_one_that_stands_last() {
    let whole = String::from_utf8(record(&header(), &entries(), Some(&summary()))).unwrap();
    let seals: Vec<&str> =
        whole.lines().filter_map(|line| line.strip_prefix("seal = \"")?.strip_suffix('"')).collect();
    let [.., before, last] = seals[..] else { panic!("{whole}") };
    let told = |text: &str| last_seal(text.as_bytes());
    assert_eq!(told(&whole).as_deref(), Some(last));
    assert_eq!(told(&whole[..whole.len() - 1]).as_deref(), Some(before));
    assert_eq!(told(&whole.replacen("n = 1\n", "n = 7\n", 1)).as_deref(), Some(last));
    assert_eq!(told("format = 1\n"), None);
}

#[test]
fn a_run_being_written_can_be_listed() {
    let home = tempfile::tempdir().unwrap();
    let mut recorder = Recorder::create(home.path(), &header()).unwrap();
    recorder.append(&entries()).unwrap();
    let seen = list(home.path()).unwrap();
    assert_eq!(seen.records.into_iter().map(|glance| glance.outcome).collect::<Vec<_>>(), [None]);
}

/// A list looks at both ends alone: what was edited between them is found where all is read.
#[test]
fn a_glance_looks_at_both_ends_alone() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("it.toml");
    for summary in [None, Some(summary())] {
        let text = String::from_utf8(record(&header(), &entries(), summary.as_ref())).unwrap();
        fs::write(&path, text.replacen("n = 1\n", "n = 7\n", 1)).unwrap();
        let told = glance(&path).unwrap();
        assert_eq!((told.id, told.outcome), (header().id, summary.map(|summary| summary.outcome)));
        assert!(matches!(read(&path).unwrap_err().trouble, Trouble::Edited(_)));
    }
}

#[test]
fn a_finding_tells_the_line_that_it_is_about() {
    let whole = record(&header(), &entries(), Some(&summary()));
    let text = String::from_utf8(whole.clone()).unwrap();
    let line_of = |mark: &str| text[..text.rfind(mark).unwrap()].lines().count() + 1;
    let lines = |bytes: &[u8]| verify_bytes(bytes).iter().map(Verification::line).collect::<Vec<_>>();
    assert_eq!(lines(&whole), [None]);
    assert_eq!(lines(&whole[..whole.len() - 9]), [Some(line_of("[result]"))]);
    assert_eq!(
        lines(text.replacen("n = 1\n", "n = 7\n", 1).as_bytes()),
        [Some(line_of("[[entry]]\nn = 1\n"))]
    );
    assert_eq!(lines(b""), [None]);
}
