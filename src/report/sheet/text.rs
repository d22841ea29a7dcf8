//! A worksheet as lines of text, for any printer.

use super::{LookupTable, Sheet, SheetItem, Slot};
use crate::report::text::hung;
use crate::report::{Page, Row, to_text};
use crate::words::wrap;

/// Where the words of a line begin, after its number.
const WORDS_FROM: usize = 6;
const BLANK: &str = "________";
/// What is signed before the work.
pub(super) const INITIALS: &str = "I read every boxed hazard (in full: tankhand guide hazards). Initials";
/// Keeps a box and its word on one line.
const NO_BREAK: &str = "\u{a0}";

/// The worksheet in lines of at most `width` columns (at least 40).
pub fn sheet_text(sheet: &Sheet, width: usize) -> Vec<String> {
    let width = width.max(40);
    let mut lines = head(sheet, width);
    if sheet.has_boxes() {
        lines.extend(wrap(&format!("[ ] {INITIALS} ____"), width, 4));
    }
    for section in &sheet.sections {
        lines.extend(headed(&section.title, width));
        lines.push("time ____:____".to_string());
        lines.extend(section.items.iter().flat_map(|item| item_lines(item, width)));
    }
    for table in &sheet.tables {
        lines.extend(table_lines(table, width));
    }
    lines.extend([String::new(), "Remarks".to_string()]);
    lines.extend(std::iter::repeat_n("_".repeat(width), 3));
    lines.extend([String::new(), format!("Signed, with date: {}", "_".repeat(20))]);
    let typed = format!("To type it in, line by line: tankhand run {} --from-paper", sheet.name);
    lines.extend(wrap(&typed, width, 0));
    lines
}

fn headed(title: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    lines.extend(wrap(title, width, 0));
    lines.push("-".repeat(title.chars().count().min(width)));
    lines
}

fn head(sheet: &Sheet, width: usize) -> Vec<String> {
    let mut lines = wrap(&format!("{} (worksheet)", sheet.title), width, 0);
    lines.push("=".repeat(sheet.title.chars().count().min(width)));
    lines.extend(wrap(&sheet.purpose, width, 0));
    let place = sheet.place();
    let about = [
        ("Place", (!place.is_empty()).then(|| place.join(", "))),
        ("Tanks", sheet.of_columns()),
        ("Time", sheet.time.clone().map(|time| format!("about {time}"))),
        ("Bring", (!sheet.bring.is_empty()).then(|| sheet.bring.join("; "))),
        ("Day", Some("____-__-__".to_string())),
        ("Begun", Some("____:____".to_string())),
        ("Who", Some("_".repeat(24))),
    ];
    lines.push(String::new());
    for (word, text) in about {
        if let Some(text) = text {
            lines.extend(hung(&format!("{word:<7}"), &text, width));
        }
    }
    if !sheet.known.is_empty() {
        let known: Vec<String> = sheet.known.iter().map(|(name, value)| format!("{name} {value}")).collect();
        let known = format!("On file: {}. All still so? [ ] yes [ ] no: ____", known.join("; "));
        lines.push(String::new());
        lines.extend(wrap(&known, width, 2));
    }
    lines
}

fn item_lines(item: &SheetItem, width: usize) -> Vec<String> {
    let lead = format!("{:>4}  ", item.number);
    let only_if = item.only_if.as_ref().map(|only_if| format!("{only_if}: ")).unwrap_or_default();
    let heading = item.heading.as_ref().map(|heading| format!("{heading}. ")).unwrap_or_default();
    let first = format!("{heading}{only_if}{}", item.line.text);
    let warned = item.warned.join("; ");
    let words = [&warned, &first].into_iter().chain(&item.line.notes).filter(|text| !text.is_empty());
    let filled = slot_lines(item, width);
    let mut lines: Vec<String> = item.boxes.iter().flat_map(|text| hung("    | ", text, width)).collect();
    let boxed = lines.len();
    for text in words.chain(&filled) {
        let lead = if lines.len() == boxed { lead.clone() } else { " ".repeat(lead.len()) };
        lines.extend(hung(&lead, text, width));
    }
    let row =
        |row: &SheetItem| item_lines(&SheetItem { columns: item.columns.clone(), ..row.clone() }, width);
    lines.extend(item.rows.iter().flat_map(row));
    lines.iter().map(|line| line.replace(NO_BREAK, " ")).collect()
}

/// The blanks, by rounds or tanks where there are several.
fn slot_lines(item: &SheetItem, width: usize) -> Vec<String> {
    let one = match &item.line.slot {
        Slot::Nothing => return Vec::new(),
        Slot::Tick => "[ ]".replace(' ', NO_BREAK),
        Slot::Numbers(unit, times) => {
            let blanks = vec![BLANK; *times as usize].join("  ");
            format!("{blanks} {}", unit.unwrap_or("")).trim_end().to_string()
        }
        Slot::Words(words) => words.iter().map(|word| box_before(word)).collect::<Vec<_>>().join("  "),
        Slot::Line => "_".repeat(width.saturating_sub(WORDS_FROM).min(40)),
        Slot::Waited => format!("waited {BLANK} min"),
    };
    if item.columns.is_empty() {
        return vec![one];
    }
    let blank = if item.line.slot == Slot::Tick { one.as_str() } else { "____" };
    let column = |column: &String| format!("{}:{NO_BREAK}{blank}", column.replace(' ', NO_BREAK));
    let each = item.columns.iter().map(column).collect::<Vec<_>>().join(" ");
    match &item.line.slot {
        Slot::Words(_) => vec![one, each],
        Slot::Numbers(Some(unit), _) => vec![format!("{each} {unit}")],
        Slot::Numbers(None, _) | Slot::Nothing | Slot::Tick | Slot::Line | Slot::Waited => vec![each],
    }
}

/// A word with a box before it; a long one may be broken further on.
fn box_before(word: &str) -> String {
    let (first, rest) = word.split_once(' ').unwrap_or((word, ""));
    format!("[{NO_BREAK}]{NO_BREAK}{first} {rest}").trim_end().to_string()
}

fn table_lines(table: &LookupTable, width: usize) -> Vec<String> {
    let mut lines = headed(&table.title, width);
    lines.extend(wrap(&table.note, width, 0));
    lines.push(String::new());
    let mut page = Page::default();
    let head: Vec<&str> = table.head.iter().map(String::as_str).collect();
    page.table(&head, table.rows.iter().map(Row::new));
    lines.extend(to_text(&page, width));
    lines
}
