//! A procedure as a worksheet: boxes to tick and lines to fill in by hand, made for one
//! installation, with tables where the program would work something out.

mod build;
mod html;
mod known;
mod naming;
mod phrases;
mod rehearsal;
mod tables;
mod text;

pub(super) use crate::procedure::PaperLine;
pub use crate::procedure::Slot;
pub use build::worksheet;
pub use html::sheet_html;
pub use text::sheet_text;

use crate::procedure::Procedure;
use crate::system::{System, Tank};

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
    /// The tanks by their ids, where several are gone through, with what they are called.
    pub tanks: Vec<(String, Option<String>)>,
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
    /// What stands over the lines, for one tank of a system, or for several that are gone through.
    fn headed(
        name: &str,
        procedure: &Procedure,
        (system, tank): (&System, usize),
        several: &[Tank],
    ) -> Sheet {
        let own = system.tanks.get(tank).filter(|_| procedure.is_for_one_tank());
        Sheet {
            title: procedure.title.clone(),
            name: name.to_string(),
            purpose: procedure.purpose.clone(),
            site: system.name.clone(),
            tank: own.and_then(|_| system.tank_called(tank)),
            tanks: (0..)
                .zip(several)
                .map(|(at, tank)| (tank.id.to_string(), system.tank_called(at)))
                .collect(),
            time: procedure.time.clone(),
            bring: procedure.bring.clone(),
            ..Sheet::default()
        }
    }

    /// Where the work is done, in words.
    fn place(&self) -> Vec<String> {
        self.site.iter().cloned().chain(self.tank.clone()).collect()
    }

    /// Which tanks the columns stand for, where there are several.
    fn of_columns(&self) -> Option<String> {
        let called = |(id, name): &(String, Option<String>)| match name {
            Some(name) if *name != format!("tank {id}") => format!("{id}: {name}"),
            Some(_) | None => id.clone(),
        };
        (!self.tanks.is_empty()).then(|| self.tanks.iter().map(called).collect::<Vec<_>>().join("; "))
    }

    /// Whether there is anything that can hurt.
    fn has_boxes(&self) -> bool {
        self.items().any(|item| !item.boxes.is_empty())
    }

    /// Short parts of the work in a section together, each but the first with its heading before its first line.
    fn joined(&mut self) {
        let mut sections: Vec<SheetSection> = Vec::new();
        for mut section in std::mem::take(&mut self.sections) {
            match sections.last_mut() {
                // What is only to be known stands apart.
                Some(last) if last.title != FIRST && last.lines() + section.lines() <= LINES_TOGETHER => {
                    if let Some(first) = section.items.first_mut() {
                        first.heading = Some(section.title);
                    }
                    last.items.append(&mut section.items);
                }
                _ => sections.push(section),
            }
        }
        self.sections = sections;
    }

    /// Every line, those of grids too.
    pub fn items(&self) -> impl Iterator<Item = &SheetItem> {
        self.sections.iter().flat_map(SheetSection::all)
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
    /// The heading of a part of the work that is too short for a section of its own.
    pub heading: Option<String>,
    /// What can hurt, each in a box, where it is met first.
    pub boxes: Vec<String>,
    /// What can hurt and was met before, by name.
    pub warned: Vec<String>,
    /// What it says, and what is filled in.
    pub line: PaperLine,
    /// A word over each column of a grid: the rounds, or the tanks.
    pub columns: Vec<String>,
    /// The rows of the grid, where steps come round.
    pub rows: Vec<SheetItem>,
}

/// The heading over the facts.
const FIRST: &str = "What must be known first";
/// Parts of the work that have no more lines together share a section, and a time.
const LINES_TOGETHER: usize = 7;

/// So many rounds have a column at most; more go on the back.
const MOST_ROUND_COLUMNS: u32 = 12;

impl SheetSection {
    /// Every line, those of grids too.
    pub fn all(&self) -> impl Iterator<Item = &SheetItem> {
        self.items.iter().flat_map(SheetItem::all)
    }

    /// How many lines are filled in.
    fn lines(&self) -> usize {
        self.all().filter(|item| !item.number.is_empty()).count()
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
