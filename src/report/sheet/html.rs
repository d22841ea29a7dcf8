//! A worksheet as one HTML file, for print.

use maud::{Markup, html};

use super::super::html::{running_head, whole_file};
use super::text::INITIALS;
use super::{LookupTable, PaperLine, Sheet, SheetItem, SheetSection, Slot};

/// The worksheet as a whole HTML file.
pub fn sheet_html(sheet: &Sheet) -> String {
    let body = html! {
        (head(sheet))
        div.work {
            @for part in &sheet.sections { (section(part)) }
            @if !sheet.tables.is_empty() { div.lookups { @for table in &sheet.tables { (lookup(table)) } } }
            footer {
                div.remarks { "Remarks" }
                p { "Signed " span.blank {} " To type it in: " code { "tankhand run " (sheet.name) " --from-paper" } }
            }
        }
    };
    let name = format!("{} (worksheet)", sheet.title);
    let head = running_head(&[vec![name.clone()], sheet.place()].concat().join(", "));
    whole_file(&name, &format!("{}{head}", include_str!("sheet.css")), body)
}

fn head(sheet: &Sheet) -> Markup {
    let place = sheet.place();
    html! {
        header {
            div.title {
                h1 { (sheet.title) }
                p { "Day " span.blank {} " Begun " span.blank.short {} " Who " span.blank.wide {} }
            }
            p {
                @if sheet.has_boxes() { b { span.box {} " " (INITIALS) " " span.blank.short {} } " " }
                (place.join(", "))
                @if let Some(time) = &sheet.time { ". Time: about " (time) }
                @if let Some(tanks) = sheet.of_columns() { ". Tanks: " (tanks) }
                "."
            }
            dl {
                @if !sheet.bring.is_empty() { (about("Bring", html! { (sheet.bring.join("; ")) })) }
                @if !sheet.known.is_empty() {
                    (about("On file", html! {
                        @for (at, (name, value)) in sheet.known.iter().enumerate() {
                            @if at > 0 { "; " } (name) " " strong { (value) }
                        }
                        ". All still so? " span.box {} " yes " span.box {} " no"
                    }))
                }
            }
        }
    }
}

fn about(word: &str, text: Markup) -> Markup {
    html! { div { dt { (word) } dd { (text) } } }
}

fn section(section: &SheetSection) -> Markup {
    // What is only said belongs to the line above it.
    let is_said = |item: &SheetItem| item.number.is_empty() && item.rows.is_empty();
    html! {
        section.part {
            h2 { span { (section.title) } " " span.time { "time " span.blank.short {} } }
            ol {
                @for lines in section.items.chunk_by(|_, next| is_said(next)) {
                    @if lines.iter().any(|line| !line.rows.is_empty()) {
                        li.rounds { @for line in lines { (round_lines(line)) } }
                    } @else {
                        li { @for line in lines { (words(line, html! {}, filled(line))) } }
                    }
                }
            }
        }
    }
}

/// What is filled in behind a line.
fn filled(item: &SheetItem) -> Markup {
    html! {
        @if item.line.slot != Slot::Nothing {
            span.slots {
                @if item.columns.is_empty() { (slot(&item.line.slot)) }
                @for column in &item.columns { span.slot { (column) ": " (slot(&item.line.slot)) } " " }
            }
        }
    }
}

/// What a line says after the words that lead to it: its number, what can hurt, when, what to do, what shows that
/// it went right.
fn words(item: &SheetItem, lead: Markup, filled: Markup) -> Markup {
    html! {
        @for text in &item.boxes { div.hazard { (text) } }
        p class=[item.line.text.starts_with("STOP").then_some("stop")] {
            @if !item.number.is_empty() { span.n { (item.number) } " " }
            (lead)
            (before(item))
            (item.line.text) " " (filled)
        }
        @for note in &item.line.notes {
            p class=(if note.starts_with("STOP") { "stop" } else { "note" }) { (note) }
        }
    }
}

/// Its heading, what can hurt, and when it is done.
fn before(item: &SheetItem) -> Markup {
    html! {
        @if let Some(heading) = &item.heading { b { (heading) ". " } }
        @if !item.warned.is_empty() { span.danger { (item.warned.join("; ")) "." } " " }
        @if let Some(only_if) = &item.only_if { em { (only_if) ": " } }
    }
}

/// Steps that come round: each with a row of cells, one for each round or tank. What is said after them
/// stands below.
fn round_lines(item: &SheetItem) -> Markup {
    let Some((first, rest)) = item.rows.split_first() else { return words(item, html! {}, html! {}) };
    let size = match item.columns.len() {
        0..=4 => "few",
        5..=6 => "some",
        _ => "many",
    };
    let row = |row: &SheetItem, lead| {
        html! { div.row { (words(row, lead, html! { (cell_words(&row.line)) (cells(row, &item.columns)) })) } }
    };
    html! {
        div class=(size) {
            @for text in &item.boxes { div.hazard { (text) } }
            (row(first, html! { (before(item)) (item.line.text) " " }))
            @for line in rest { (row(line, html! {})) }
        }
    }
}

/// The cells of a row, each with its round or tank, to tick or to write into.
fn cells(row: &SheetItem, columns: &[String]) -> Markup {
    html! {
        @if row.line.slot != Slot::Nothing {
            span.cells {
                @for column in columns {
                    span.cell {
                        small { (column) }
                        @if row.line.slot == Slot::Tick { span.box {} }
                    }
                }
            }
        }
    }
}

/// What is written into the cells, where the line does not say it.
fn cell_words(line: &PaperLine) -> Markup {
    html! {
        @match &line.slot {
            Slot::Words(words) if !words.iter().all(|word| line.text.contains(word.as_str())) => {
                span.note { "(" (words.join(" / ")) ") " }
            }
            Slot::Numbers(Some(unit), _) => { span.note { "(" (unit) ") " } }
            Slot::Words(_) | Slot::Numbers(None, _) | Slot::Nothing | Slot::Tick | Slot::Line | Slot::Waited => {}
        }
    }
}

fn slot(slot: &Slot) -> Markup {
    html! {
        @match slot {
            Slot::Nothing => {}
            Slot::Tick => { span.box {} }
            Slot::Numbers(unit, times) => {
                @for _ in 1..*times { span.blank.short {} " " }
                span.word { span.blank.short {} @if let Some(unit) = unit { " " (unit) } }
            }
            Slot::Words(words) => { @for word in words { span.word { span.box {} " " (word) } " " } }
            Slot::Line => { span.blank.wide {} }
            Slot::Waited => { "waited " span.blank.short {} " min" }
        }
    }
}

fn lookup(table: &LookupTable) -> Markup {
    html! {
        div.lookup {
            table aria-label=(table.title) {
                thead { tr { @for word in &table.head { th scope="col" { (word) } } } }
                tbody {
                    @for row in &table.rows {
                        tr {
                            @for (at, cell) in row.iter().enumerate() {
                                @if at == 0 { th scope="row" { (cell) } } @else { td { (cell) } }
                            }
                        }
                    }
                }
            }
            p.note { b { (table.title) ". " } (table.note) }
        }
    }
}
