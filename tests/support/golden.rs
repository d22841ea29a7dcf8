//! Whole outputs kept in files beside the tests.

#![allow(dead_code, clippy::unwrap_used)]

/// Compares with `tests/terminal/NAME`; with `TANKHAND_BLESS=1` the file is written anew
/// instead, to be looked at before it is kept.
pub fn assert_golden(name: &str, text: &str) {
    let path = format!("{}/tests/terminal/{name}", env!("CARGO_MANIFEST_DIR"));
    let text = text.trim_end_matches('\n');
    if std::env::var_os("TANKHAND_BLESS").is_some() {
        std::fs::write(&path, format!("{text}\n")).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        text == kept.trim_end_matches('\n'),
        "{name} has changed; it is now:\n{text}\n--- it was:\n{kept}"
    );
}
