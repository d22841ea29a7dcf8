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
    /// Those that were tried; all, or a sample drawn by chance.
    pub tried: usize,
    /// Those of them that a test notices.
    pub killed: usize,
    /// The same as a share of those tried; percent, cut off after one digit.
    pub percent: f64,
    /// For a sample: where the share of all lies with 95 % confidence (Wilson); percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub between: Option<[f64; 2]>,
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
    pub fn renewed(&self, folders: &[String], viable: &[&Mutant], tried: &[(&Mutant, bool)]) -> Table {
        let reasons: BTreeMap<[&str; 3], &str> =
            self.survivor.iter().map(|survivor| (survivor.key(), survivor.reason.as_str())).collect();
        let survived = tried.iter().filter(|(_, noticed)| !noticed);
        let survivor = survived.map(|(mutant, _)| {
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
            folders.iter().map(|name| count(name, &format!("src/{name}"), viable, tried)).collect();
        folder.push(count("all", "src/", viable, tried));
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
            let Folder { name, viable, tried, killed, percent, between } = folder;
            let between = between.map_or(String::new(), |[low, high]| format!(", {low} to {high} % of all"));
            format!(
                "{name:<16}{viable:>6} viable{tried:>6} tried{killed:>6} killed{percent:>7.1} %{between}\n"
            )
        });
        lines.collect()
    }
}

fn count(name: &str, below: &str, viable: &[&Mutant], tried: &[(&Mutant, bool)]) -> Folder {
    let viable = viable.iter().filter(|mutant| mutant.file.starts_with(below)).count();
    let noticed: Vec<bool> = tried
        .iter()
        .filter(|(mutant, _)| mutant.file.starts_with(below))
        .map(|(_, noticed)| *noticed)
        .collect();
    let (tried, killed) = (noticed.len(), noticed.iter().filter(|noticed| **noticed).count());
    let percent = (1000 * killed / tried.max(1)) as f64 / 10.0;
    let between = (tried < viable).then(|| wilson(killed as f64, tried.max(1) as f64));
    Folder { name: name.to_string(), viable, tried, killed, percent, between }
}

/// The interval of Wilson's score for a share, 95 %; percent, one digit.
fn wilson(killed: f64, tried: f64) -> [f64; 2] {
    let (z, share) = (1.96, killed / tried);
    let middle = share + z * z / (2.0 * tried);
    let reach = z * (share * (1.0 - share) / tried + z * z / (4.0 * tried * tried)).sqrt();
    [middle - reach, middle + reach].map(|end| (1000.0 * end / (1.0 + z * z / tried)).round() / 10.0)
}
