//! Goldens: files that hold what an output must be.

use std::fs;
use std::path::{Path, PathBuf};

/// A place in the project.
pub fn in_project(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// The names of the folders in a folder, sorted.
pub fn folders(path: &str) -> Vec<String> {
    let entries = fs::read_dir(in_project(path)).unwrap().map(Result::unwrap);
    let folders = entries.filter(|entry| entry.file_type().unwrap().is_dir());
    let mut names: Vec<String> = folders.map(|entry| entry.file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// Whether goldens are to be written rather than compared.
pub fn blessing() -> bool {
    std::env::var_os("TANKHAND_BLESS").is_some()
}

/// Compares a whole output with its golden, or writes the golden when asked to bless.
pub fn holds(path: &str, output: &str) {
    let file = in_project(path);
    if blessing() {
        fs::write(&file, output).unwrap();
        return;
    }
    let golden = fs::read_to_string(&file).unwrap_or_default();
    let differs = golden.lines().zip(output.lines()).position(|(a, b)| a != b);
    let line = differs.unwrap_or(golden.lines().count().min(output.lines().count()));
    let (was, is) = (golden.lines().nth(line), output.lines().nth(line));
    assert!(
        golden == output,
        "{path}:{}: was {was:?}, is {is:?}\nbless with: TANKHAND_BLESS=1 cargo test --test transcripts",
        line + 1
    );
}
