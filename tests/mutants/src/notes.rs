//! What earlier trials here have found, so that they can go on where they were left.

use std::collections::BTreeSet;
use std::fs::{File, OpenOptions};
use std::io::Write;
use std::path::Path;
use std::sync::Mutex;

use crate::sites::Mutant;

/// The faults that were noticed.
pub struct Notes {
    known: BTreeSet<String>,
    file: Mutex<File>,
}

impl Notes {
    /// Goes on with the notes, or begins them anew.
    pub fn open(path: &Path, again: bool) -> Notes {
        let text = if again { std::fs::read_to_string(path).unwrap_or_default() } else { String::new() };
        let known = text.lines().map(str::to_string).collect();
        let mut options = OpenOptions::new();
        options.create(true).append(again).truncate(!again).write(true);
        let file = options.open(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        Notes { known, file: Mutex::new(file) }
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.known.is_empty()
    }

    /// Whether a fault was noticed before.
    pub fn has(&self, mutant: &Mutant) -> bool {
        self.known.contains(&key(mutant))
    }

    /// Notes a fault as noticed.
    pub fn add(&self, mutant: &Mutant) {
        let line = format!("{}\n", key(mutant));
        self.file.lock().expect("no worker panics").write_all(line.as_bytes()).expect("notes are written");
    }
}

fn key(mutant: &Mutant) -> String {
    format!("{} {}: {}", mutant.file, mutant.function, mutant.mutation)
}
