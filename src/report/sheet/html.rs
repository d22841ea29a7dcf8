//! A worksheet as one HTML file, for print.

use maud::{Markup, html};

use super::super::html::{running_head, whole_file};
use super::{LookupTable, Sheet, SheetItem, SheetSection, Slot};

/// The worksheet as a whole HTML file.
pub fn sheet_html(sheet: &Sheet) -> String {
    let body = html! {
        (head(sheet))
        @if !sheet.hazards.is_empty() { (hazards(sheet)) }
        div.work { @for part in &sheet.sections { (section(part)) } }
        @if !sheet.tables.is_empty() {
            div.lookups { @for table in &sheet.tables { (lookup(table)) } }
        }
        footer {
            div.remarks { "Remarks" }
            p { "Signed, with date: " span.blank.wide {} }
            p.note { "To type it in, line by line: " code { "tankhand run " (sheet.name) " --from-paper" } }
        }
    };
    let name = format!("{} (worksheet)", sheet.title);
    let style = format!(
        "{}{}",
        include_str!("sheet.css"),
        running_head(&[vec![name.clone()], sheet.place()].concat().join(", "))
    );
    whole_file(&name, &style, body)
}

fn head(sheet: &Sheet) -> Markup {
    let place = sheet.place();
    html! {
        header {
            h1 { (sheet.title) }
            p { "Day " span.blank {} " Begun " span.blank.short {} " Who " span.blank.wide {} }
            dl {
                @if !place.is_empty() { (about("Place", html! { (place.join(", ")) })) }
                @if let Some(time) = &sheet.time { (about("Time", html! { "about " (time) })) }
                @if !sheet.bring.is_empty() { (about("Bring", html! { (sheet.bring.join("; ")) })) }
                @if !sheet.known.is_empty() {
                    (about("On file", html! {
                        @for (at, (name, value)) in sheet.known.iter().enumerate() {
                            @if at > 0 { "; " } (name) " " strong { (value) }
                        }
                        ". All still so? " span.box {} " yes " span.box {} " no: " span.blank.wide {}
                    }))
                }
            }
        }
    }
}

fn about(word: &str, text: Markup) -> Markup {
    html! { div { dt { (word) } dd { (text) } } }
}

fn hazards(sheet: &Sheet) -> Markup {
    html! {
        section.hazards {
            h2 { "What can hurt" span.time { span.box {} " I read all of this. Initials " span.blank.short {} } }
            ul { @for message in &sheet.hazards { li { (message) } } }
        }
    }
}

fn section(section: &SheetSection) -> Markup {
    html! {
        section {
            h2 { span { (section.title) } " " span.time { "time " span.blank.short {} } }
            ol { @for line in &section.items { (item(line)) } }
        }
    }
}

fn item(item: &SheetItem) -> Markup {
    html! {
        li {
            span.n { (item.number) }
            div {
                (words(item, html! {
                    @if item.rows.is_empty() && item.line.slot != Slot::Nothing {
                        span.slots {
                            @if item.columns.is_empty() { (slot(&item.line.slot)) }
                            @for column in &item.columns { span.slot { (column) ": " (slot(&item.line.slot)) } }
                        }
                    }
                }))
                @if !item.rows.is_empty() { (grid(item)) }
            }
        }
    }
}

/// What a line says: what can hurt, when, what to do, what shows that it went right.
fn words(item: &SheetItem, filled: Markup) -> Markup {
    html! {
        @for warning in &item.warned { p.danger { (warning) } }
        p class=[item.line.text.starts_with("STOP").then_some("stop")] {
            @if let Some(only_if) = &item.only_if { em { (only_if) ": " } }
            (item.line.text) " " (filled)
        }
        @for note in &item.line.notes {
            p class=(if note.starts_with("STOP") { "stop" } else { "note" }) { (note) }
        }
    }
}

/// Steps that come round: each with a row of cells below it, one for each round or tank.
fn grid(item: &SheetItem) -> Markup {
    html! {
        table.grid {
            thead { tr { @for column in &item.columns { th scope="col" { (column) } } } }
            tbody {
                @for row in &item.rows {
                    tr {
                        th scope="row" colspan=(item.columns.len()) {
                            @if !row.number.is_empty() { span.n { (row.number) } " " }
                            (words(row, cell_words(&row.line.slot)))
                        }
                    }
                    @if row.line.slot != Slot::Nothing {
                        tr { @for _ in &item.columns { td { @if row.line.slot == Slot::Tick { span.box {} } } } }
                    }
                }
            }
        }
    }
}

/// What is written into the cells.
fn cell_words(slot: &Slot) -> Markup {
    html! {
        @match slot {
            Slot::Words(words) => { span.note { "Write: " (words.join(" / ")) } }
            Slot::Numbers(Some(unit), _) => { span.note { "In " (unit) } }
            Slot::Numbers(None, _) | Slot::Nothing | Slot::Tick | Slot::Line | Slot::Waited => {}
        }
    }
}

fn slot(slot: &Slot) -> Markup {
    html! {
        @match slot {
            Slot::Nothing => {}
            Slot::Tick => { span.box {} }
            Slot::Numbers(unit, times) => {
                @for _ in 0..*times { span.blank.short {} " " }
                @if let Some(unit) = unit { (unit) }
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
            table {
                caption { (table.title) }
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
            p.note { (table.note) }
        }
    }
}
