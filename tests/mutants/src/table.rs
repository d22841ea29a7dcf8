//! The committed table: counts by folder, and every fault no test notices with the reason why.

use std::collections::BTreeMap;
use std::path::Path;

use serde::{Deserialize, Serialize};

use crate::sites::Mutant;

const HEAD: &str = "\
# Small faults put into the program one at a time, and what no test notices of them.
# Made by `.ci/mutants`; only the reasons are written by hand. A fault is known by its file, its
# function and its text, with a number where the same stands there more than once.

";

/// The table.
#[derive(Debug, Default, Deserialize, Serialize)]
pub struct Table {
    /// Counts by folder.
    #[serde(default)]
    pub folder: Vec<Folder>,
    /// What no test notices.
    #[serde(default)]
    pub survivor: Vec<Survivor>,
}

/// Counts of one folder.
#[derive(Clone, Debug, Default, Deserialize, Serialize)]
pub struct Folder {
    /// Below `src`.
    pub name: String,
    /// Faults that compile.
    pub viable: usize,
    /// Faults that a test notices.
    pub killed: usize,
    /// The same as a share; percent, cut off after one digit.
    pub percent: f64,
}

/// A fault that no test notices.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Survivor {
    /// The file.
    pub file: String,
    /// The function.
    pub function: String,
    /// What is written, and what stands there instead.
    pub mutation: String,
    /// Why it may be; empty until someone has looked.
    pub reason: String,
}

impl Survivor {
    fn key(&self) -> [&str; 3] {
        [&self.file, &self.function, &self.mutation]
    }
}

impl Table {
    /// The committed table, or an empty one.
    pub fn read(path: &Path) -> Table {
        let text = std::fs::read_to_string(path).unwrap_or_default();
        toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
    }

    /// Whether a fault is one of those no test noticed.
    pub fn has(&self, mutant: &Mutant) -> bool {
        let key = [&mutant.file, &mutant.function, &mutant.mutation].map(String::as_str);
        self.survivor.iter().any(|survivor| survivor.key() == key)
    }

    /// A table of what was found, with the reasons of this one.
    pub fn renewed(&self, folders: &[String], viable: &[&Mutant], survived: &[&Mutant]) -> Table {
        let reasons: BTreeMap<[&str; 3], &str> =
            self.survivor.iter().map(|survivor| (survivor.key(), survivor.reason.as_str())).collect();
        let survivor = survived.iter().map(|mutant| {
            let mut survivor = Survivor {
                file: mutant.file.clone(),
                function: mutant.function.clone(),
                mutation: mutant.mutation.clone(),
                reason: String::new(),
            };
            survivor.reason = reasons.get(&survivor.key()).unwrap_or(&"").to_string();
            survivor
        });
        let mut folder: Vec<Folder> =
            folders.iter().map(|name| count(name, &format!("src/{name}"), viable, survived)).collect();
        folder.push(count("all", "src/", viable, survived));
        Table { folder, survivor: survivor.collect() }
    }

    /// Writes it.
    pub fn write(&self, path: &Path) {
        let text = toml::to_string_pretty(self).expect("a table is TOML");
        std::fs::write(path, format!("{HEAD}{text}")).expect("the table is written");
    }

    /// The counts as lines.
    pub fn counts(&self) -> String {
        let lines = self.folder.iter().map(|folder| {
            let Folder { name, viable, killed, percent } = folder;
            format!("{name:<16}{viable:>8} viable{killed:>8} killed{percent:>8.1} %\n")
        });
        lines.collect()
    }
}

fn count(name: &str, below: &str, viable: &[&Mutant], survived: &[&Mutant]) -> Folder {
    let of = |mutants: &[&Mutant]| mutants.iter().filter(|mutant| mutant.file.starts_with(below)).count();
    let (viable, survived) = (of(viable), of(survived));
    let killed = viable - survived;
    let percent = (1000 * killed / viable.max(1)) as f64 / 10.0;
    Folder { name: name.to_string(), viable, killed, percent }
}
