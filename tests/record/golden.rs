//! A whole record, byte by byte; `REFRESH_GOLDEN=1` writes it anew.

use std::path::PathBuf;

use tankhand::record::{Contents, Finding, Outcome, read, verify};

use crate::samples::{entries, header, record, summary};

fn golden() -> PathBuf {
    [env!("CARGO_MANIFEST_DIR"), "tests/record/golden/format-1-whole.toml"].iter().collect()
}

#[test]
fn a_record_is_written_as_it_always_was() {
    let bytes = record(&header(), &entries(), Some(&summary()));
    if std::env::var_os("REFRESH_GOLDEN").is_some() {
        std::fs::write(golden(), &bytes).unwrap();
    }
    let kept = std::fs::read_to_string(golden()).unwrap();
    assert_eq!(String::from_utf8(bytes).unwrap(), kept);
}

#[test]
fn an_old_record_stays_readable() {
    let contents = read(&golden()).unwrap();
    let expected = Contents {
        header: header(),
        entries: entries(),
        foreign: Vec::new(),
        summary: Some(summary()),
        torn: None,
    };
    assert_eq!(contents, expected);
    let sound = Finding::Sound { entries: 15, outcome: Some(Outcome::Failed) };
    let found = verify(&golden()).unwrap();
    assert_eq!(found, [sound]);
    assert_eq!(found[0].to_string(), "every seal holds: 15 entries, failed");
}
