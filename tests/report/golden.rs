//! Whole outputs kept in files; `TANKHAND_BLESS=1` writes them anew.

use std::path::PathBuf;

/// Holds an output against the file of that name.
pub fn holds(name: &str, output: &str) {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/report/golden").join(name);
    if std::env::var_os("TANKHAND_BLESS").is_some() {
        std::fs::write(&path, output).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == output, "{name} differs (TANKHAND_BLESS=1 keeps the new one):\n{output}");
}
