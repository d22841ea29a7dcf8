//! A procedure as a worksheet: boxes to tick and lines to fill in by hand, made for one
//! installation, with tables where the program would work something out.

mod build;
mod html;
mod known;
mod phrases;
mod rehearsal;
mod tables;
mod text;

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
    /// The hazards of the work, each message whole; its number is its place, from 1.
    pub hazards: Vec<String>,
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
    /// The step or fact it is the line of.
    pub step: String,
    /// Its number; empty where nothing is filled in.
    pub number: String,
    /// When it is done at all.
    pub only_if: Option<String>,
    /// What can hurt, by number and name; the whole messages stand at the head of the sheet.
    pub warned: Vec<String>,
    /// What it says, and what is filled in.
    pub line: PaperLine,
    /// A word over each column of a grid: the rounds, or the tanks.
    pub columns: Vec<String>,
    /// The rows of the grid, where steps come round.
    pub rows: Vec<SheetItem>,
}

/// So many rounds have a column at most; more go on the back.
const MOST_ROUNDS: u32 = 12;

impl Sheet {
    /// Every line, those of grids too.
    pub fn items(&self) -> impl Iterator<Item = &SheetItem> {
        self.sections.iter().flat_map(|section| section.items.iter().flat_map(SheetItem::all))
    }
}

impl SheetItem {
    fn all(&self) -> Box<dyn Iterator<Item = &SheetItem> + '_> {
        Box::new(std::iter::once(self).chain(self.rows.iter().flat_map(SheetItem::all)))
    }
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
