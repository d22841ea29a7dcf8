//! Goldens: files that hold what an output must be.
//!
//! `TANKHAND_BLESS=1 cargo test --locked` writes every one anew; read the difference before you
//! commit it.

#![allow(dead_code, clippy::unwrap_used)]

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

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

/// Tests of one program may share a golden: whoever comes second finds it written.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

/// Compares a whole output with its golden, or writes the golden when asked to bless.
pub fn holds(path: &str, output: &str) {
    let _turn = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
    let file = in_project(path);
    let golden = fs::read_to_string(&file).unwrap_or_default();
    if golden == output {
        return;
    }
    if blessing() {
        fs::write(&file, output).unwrap();
        return;
    }
    let differs = golden.lines().zip(output.lines()).position(|(a, b)| a != b);
    let line = differs.unwrap_or(golden.lines().count().min(output.lines().count()));
    let (was, is) = (golden.lines().nth(line), output.lines().nth(line));
    panic!(
        "{path}:{}: was {was:?}, is {is:?}\nTANKHAND_BLESS=1 writes it anew; it is now:\n{output}",
        line + 1
    );
}
