//! A worksheet as lines of text, for any printer.

use super::{LookupTable, Sheet, SheetItem, Slot};
use crate::words::wrap;

/// Where the words of a line begin, after box and number.
const INDENT: usize = 10;
const BLANK: &str = "________";
/// Keeps a box and its word on one line.
const NO_BREAK: &str = "\u{a0}";

/// The worksheet in lines of at most `width` columns (at least 40).
pub fn sheet_text(sheet: &Sheet, width: usize) -> Vec<String> {
    let width = width.max(40);
    let mut lines = head(sheet, width);
    for section in &sheet.sections {
        lines.push(String::new());
        let title = section.title.clone();
        lines.extend(wrap(&title, width, 0));
        lines.push("-".repeat(title.chars().count().min(width)));
        lines.push("Time begun: ____:____".to_string());
        for item in &section.items {
            lines.push(String::new());
            lines.extend(item_lines(item, width));
        }
    }
    for table in &sheet.tables {
        lines.extend(table_lines(table, width));
    }
    lines.push(String::new());
    lines.extend(wrap(&super::legend(), width, 0));
    lines.push(String::new());
    lines.push("Remarks".to_string());
    lines.extend(std::iter::repeat_n("_".repeat(width), 6));
    lines.push(String::new());
    lines.push(format!("Signed, with date: {}", "_".repeat(20)));
    let typed = format!("To type it in: tankhand run {} --from-paper", sheet.name);
    lines.extend(wrap(&typed, width, 0));
    lines
}

fn head(sheet: &Sheet, width: usize) -> Vec<String> {
    let mut lines = wrap(&format!("{} (worksheet)", sheet.title), width, 0);
    lines.push("=".repeat(sheet.title.chars().count().min(width)));
    lines.extend(wrap(&sheet.purpose, width, 0));
    let place = sheet.place();
    let about = [
        ("Place", (!place.is_empty()).then(|| place.join(", "))),
        ("Time", sheet.time.clone().map(|time| format!("about {time}"))),
        ("Bring", (!sheet.bring.is_empty()).then(|| sheet.bring.join("; "))),
        ("Day", Some("____-__-__".to_string())),
        ("Begun", Some("____:____".to_string())),
        ("Who", Some("_".repeat(24))),
    ];
    lines.push(String::new());
    for (word, text) in about {
        if let Some(text) = text {
            lines.extend(led_by(word, &text, width, 7));
        }
    }
    if !sheet.known.is_empty() {
        let known: Vec<String> = sheet.known.iter().map(|(name, value)| format!("{name} {value}")).collect();
        lines.push(String::new());
        lines.extend(wrap(&format!("From the system file: {}.", known.join("; ")), width, 2));
    }
    lines
}

/// A text with a word before its first line.
fn led_by(word: &str, text: &str, width: usize, indent: usize) -> Vec<String> {
    let mut lines = wrap(text, width, indent);
    if let Some(first) = lines.first_mut() {
        *first = format!("{word:<indent$}{}", first.trim_start());
    }
    lines
}

fn item_lines(item: &SheetItem, width: usize) -> Vec<String> {
    let tick = if item.line.slot == Slot::Tick && item.places().len() <= 1 { "[ ]" } else { "" };
    let lead = format!("{tick:<4}{:<5} ", item.number);
    let indent = INDENT.max(lead.len());
    let mut lines = Vec::new();
    let mut add = |text: &str| {
        lines.extend(match lines.is_empty() {
            true => led_by(&lead, text, width, indent),
            false => wrap(text, width, indent),
        });
    };
    if let Some(only_if) = &item.only_if {
        add(&format!("Only if {only_if}:"));
    }
    for (warning, whole) in &item.warned {
        add(&if *whole { format!("{warning} Read and understood: ____") } else { warning.clone() });
    }
    add(&item.line.text);
    for note in &item.line.notes {
        add(note);
    }
    for line in slot_lines(item, width) {
        add(&line);
    }
    lines.iter().map(|line| line.replace(NO_BREAK, " ")).collect()
}

/// The blanks, by rounds where there are several.
fn slot_lines(item: &SheetItem, width: usize) -> Vec<String> {
    let places = item.places();
    let one = match &item.line.slot {
        Slot::Nothing => return Vec::new(),
        Slot::Tick if places.len() <= 1 => return Vec::new(),
        Slot::Tick => "[ ]".to_string(),
        Slot::Numbers(unit, times) => {
            let blanks = vec![BLANK; *times as usize].join("  ");
            format!("{blanks} {}", unit.unwrap_or("")).trim_end().to_string()
        }
        Slot::Words(words) => words.iter().map(|word| box_before(word)).collect::<Vec<_>>().join("  "),
        Slot::Line => "_".repeat(width.saturating_sub(INDENT).min(40)),
        Slot::Waited => format!("waited: {BLANK}"),
        Slot::Verdict => ["pass", "fail", "can't tell"].map(box_before).join("  "),
    };
    if places.len() <= 1 {
        return vec![one];
    }
    let each = |blank: &str| {
        let each: Vec<String> = places
            .iter()
            .map(|place| format!("{}:{NO_BREAK}{blank}", place.replace(' ', NO_BREAK)))
            .collect();
        each.join(" ")
    };
    match &item.line.slot {
        Slot::Tick => vec![each("[ ]".replace(' ', NO_BREAK).as_str())],
        Slot::Numbers(unit, 1) => {
            vec![format!("{} {}", each("_____"), unit.unwrap_or("")).trim_end().to_string()]
        }
        Slot::Numbers(..) | Slot::Nothing | Slot::Words(_) | Slot::Line | Slot::Waited | Slot::Verdict => {
            vec![one, each("________")]
        }
    }
}

/// A word with a box before it; a long one may be broken further on.
fn box_before(word: &str) -> String {
    let (first, rest) = word.split_once(' ').unwrap_or((word, ""));
    format!("[{NO_BREAK}]{NO_BREAK}{first} {rest}").trim_end().to_string()
}

fn table_lines(table: &LookupTable, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    lines.extend(wrap(&table.title, width, 0));
    lines.push("-".repeat(table.title.chars().count().min(width)));
    lines.extend(wrap(&table.note, width, 0));
    lines.push(String::new());
    let mut page = crate::report::Page::default();
    let head: Vec<&str> = table.head.iter().map(String::as_str).collect();
    page.table(&head, table.rows.iter().map(crate::report::Row::new).collect());
    lines.extend(crate::report::to_text(&page, width));
    lines
}
