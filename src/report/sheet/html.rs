//! A worksheet as one HTML file, for print.

use maud::{Markup, html};

use super::super::html::whole_file;
use super::{LookupTable, Sheet, SheetItem, SheetSection, Slot};

/// The worksheet as a whole HTML file.
pub fn sheet_html(sheet: &Sheet) -> String {
    let body = html! {
        (head(sheet))
        @if !sheet.tables.is_empty() {
            div.lookups { @for table in &sheet.tables { (lookup(table)) } }
        }
        div.work { @for part in &sheet.sections { (section(part)) } }
        section {
            h2 { "Remarks" }
            div.remarks {}
            p.note { (super::legend()) }
        }
        footer {
            p { "Signed, with date: " span.blank.wide {} }
            p.note { "To type it in: " code { "tankhand run " (sheet.name) " --from-paper" } }
        }
    };
    whole_file(&format!("{} (worksheet)", sheet.title), include_str!("sheet.css"), body)
}

fn head(sheet: &Sheet) -> Markup {
    let place = sheet.place();
    html! {
        header {
            h1 { (sheet.title) }
            p { (sheet.purpose) }
            dl {
                @if !place.is_empty() { (about("Place", html! { (place.join(", ")) })) }
                @if let Some(time) = &sheet.time { (about("Time", html! { "about " (time) })) }
                @if !sheet.bring.is_empty() { (about("Bring", html! { (sheet.bring.join("; ")) })) }
                (about("Day, time", html! { span.blank {} " " span.blank {} }))
                (about("Who", html! { span.blank.wide {} }))
                @if !sheet.known.is_empty() {
                    (about("Known", html! {
                        @for (at, (name, value)) in sheet.known.iter().enumerate() {
                            @if at > 0 { "; " } (name) " " strong { (value) }
                        }
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
    html! {
        section {
            h2 { span { (section.title) } " " span.time { "begun " span.blank.short {} } }
            ol { @for line in &section.items { (item(line)) } }
        }
    }
}

fn item(item: &SheetItem) -> Markup {
    let places = item.places();
    let ticked = item.line.slot == Slot::Tick && places.len() == 1;
    let class = item.line.text.starts_with("STOP").then_some("stop");
    html! {
        li {
            span { @if ticked { span.box {} } }
            span.n { (item.number) }
            div {
                @if let Some(only_if) = &item.only_if { p.if { "Only if " (only_if) ":" } }
                @for (warning, whole) in &item.warned {
                    p.danger {
                        (warning)
                        @if *whole { " Read and understood: " span.blank.short {} }
                    }
                }
                p class=[class] { (item.line.text) }
                @for note in &item.line.notes { p.note { (note) } }
                @if !ticked && item.line.slot != Slot::Nothing {
                    div.slots {
                        @for place in &places {
                            span class=(outer(&item.line.slot)) {
                                @if !place.is_empty() { (place) ": " }
                                (slot(&item.line.slot, places.len() > 1))
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Numbers stay on one line; words may be many.
fn outer(slot: &Slot) -> &'static str {
    match slot {
        Slot::Line => "line",
        Slot::Words(_) | Slot::Verdict => "words",
        Slot::Numbers(_, times) if *times > 2 => "words",
        Slot::Numbers(..) | Slot::Nothing | Slot::Tick | Slot::Waited => "slot",
    }
}

fn slot(slot: &Slot, many: bool) -> Markup {
    let blank = || html! { span class=(if many { "blank short" } else { "blank" }) {} };
    let choice = |word: &str| html! { span { span.box {} " " (word) } " " };
    html! {
        @match slot {
            Slot::Nothing => {}
            Slot::Tick => { span.box {} }
            Slot::Numbers(unit, times) => {
                @for _ in 0..*times { (blank()) " " }
                @if let Some(unit) = unit { (unit) }
            }
            Slot::Words(words) => { @for word in words { (choice(word)) } }
            Slot::Line => { span.blank {} }
            Slot::Waited => { "waited " (blank()) }
            Slot::Verdict => { @for word in ["pass", "fail", "can't tell"] { (choice(word)) } }
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
