//! What the benches found, kept as ratios in `ratios.toml` beside them.
//!
//! Times are of one machine and one hour; how long something takes beside its yardstick is not.

use std::fs;
use std::path::Path;

use toml_edit::{DocumentMut, InlineTable, Item, Table, value};

/// Asked for by this variable, a bench writes its part of the table anew.
const ASKED_BY: &str = "TANKHAND_RATIOS";

/// The ratios of one bench.
pub struct Ratios {
    bench: &'static str,
    rows: Table,
}

impl Ratios {
    pub fn of(bench: &'static str) -> Ratios {
        Ratios { bench, rows: Table::new() }
    }

    /// Notes how many times as long something takes as its yardstick, and what is wanted at most.
    pub fn note(&mut self, what: &str, ratio: f64, bound: Option<f64>) {
        let mut row = InlineTable::new();
        row.insert("ratio", rounded(ratio).into());
        row.extend(bound.map(|bound| ("bound", bound)));
        self.rows.insert(what, value(row));
    }

    /// Puts them in place of what the table has of this bench, where that is asked for.
    pub fn keep(self) {
        if std::env::var_os(ASKED_BY).is_none() {
            return;
        }
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/benches/ratios.toml");
        let mut all: DocumentMut = fs::read_to_string(&path).unwrap().parse().unwrap();
        all.insert(self.bench, Item::Table(self.rows));
        fs::write(path, all.to_string()).unwrap();
    }
}

/// To three digits: the rest is the machine's mood.
fn rounded(ratio: f64) -> f64 {
    format!("{ratio:.2e}").parse().unwrap()
}
