//! A procedure as a worksheet: boxes to tick and lines to fill in by hand, made for one
//! installation, with tables where the program would work something out.

mod build;
mod html;
mod known;
mod tables;
mod text;
mod wording;

pub use crate::procedure::{PaperLine, Slot};
pub use build::worksheet;
pub use html::sheet_html;
pub use text::sheet_text;

/// A worksheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    /// What is done, as a heading.
    pub title: String,
    /// The procedure's name, by which the sheet is typed in.
    pub name: String,
    /// What it is for.
    pub purpose: String,
    /// The installation.
    pub site: Option<String>,
    /// The tank.
    pub tank: Option<String>,
    /// About how long it takes.
    pub time: Option<String>,
    /// What to bring.
    pub bring: Vec<String>,
    /// What the system file tells already: a name and its value.
    pub known: Vec<(String, String)>,
    /// The parts of the work.
    pub sections: Vec<SheetSection>,
    /// What is read off a table instead of being worked out.
    pub tables: Vec<LookupTable>,
}

impl Sheet {
    /// Where the work is done, in words.
    fn place(&self) -> Vec<String> {
        let tank = self.tank.as_ref().map(|tank| format!("tank {tank}"));
        self.site.iter().cloned().chain(tank).collect()
    }
}

/// A part of the work.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SheetSection {
    /// Its heading.
    pub title: String,
    /// What is done in it.
    pub items: Vec<SheetItem>,
}

/// A line of a worksheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SheetItem {
    /// Its number, such as `12.3`.
    pub number: String,
    /// When it is done at all.
    pub only_if: Option<String>,
    /// What can hurt, to be read first: whole messages, and whether it was read is ticked off, or short lines.
    pub warned: Vec<(String, bool)>,
    /// What it says, and what is filled in.
    pub line: PaperLine,
    /// How many rounds have room; 1 outside loops.
    pub rounds: u32,
    /// The tanks that have room each, where they are taken one by one.
    pub tanks: Vec<String>,
}

/// So many rounds have room at most; more go on the back.
const MOST_ROUNDS: u32 = 12;

impl SheetItem {
    /// What stands before each place to fill in: nothing where there is but one, else the tank
    /// and the round.
    fn places(&self) -> Vec<String> {
        let rounds = 1..=self.rounds.clamp(1, MOST_ROUNDS);
        let round = |round: u32| if self.rounds > 1 { round.to_string() } else { String::new() };
        match self.tanks.as_slice() {
            [] => rounds.map(round).collect(),
            tanks => tanks
                .iter()
                .flat_map(|tank| {
                    rounds.clone().map(move |n| format!("{tank} {}", round(n)).trim_end().to_string())
                })
                .collect(),
        }
    }
}

/// What the functions in formulas mean that a pencil can do.
fn legend() -> String {
    let meanings: Vec<String> =
        wording::BY_HAND.iter().map(|(name, meaning)| format!("{name}, {meaning}")).collect();
    format!("In formulas: {}.", meanings.join("; "))
}

/// A table to look a value up in.
#[derive(Clone, Debug, PartialEq)]
pub struct LookupTable {
    /// What is looked up.
    pub title: String,
    /// What it was made for.
    pub note: String,
    /// A word over each column.
    pub head: Vec<String>,
    /// The rows.
    pub rows: Vec<Vec<String>>,
}
