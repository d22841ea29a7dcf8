//! A worksheet as one HTML file, for print.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::{LookupTable, Sheet, SheetItem, SheetSection, Slot};

/// Black on white, no row cut by a page's end, lines long enough for a pencil.
const STYLE: &str = "
@page { margin: 14mm 14mm 16mm; }
* { box-sizing: border-box; }
body { font: 11pt/1.4 Georgia, 'Times New Roman', serif; color: #111; background: #fff; max-width: 46rem;
  margin: 0 auto; padding: 1rem; }
h1 { font-size: 1.7em; line-height: 1.15; margin: 0 0 .2em; }
h2 { font-size: 1.15em; margin: 1.6em 0 .3em; padding-top: .5em; border-top: 2px solid #111;
  display: flex; justify-content: space-between; gap: 1em; break-after: avoid; }
.time { font-weight: normal; font-size: .85em; white-space: nowrap; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .15em 1em; margin: .8em 0; }
dt { font-weight: bold; } dd { margin: 0; }
ol { list-style: none; margin: 0; padding: 0; }
li { display: grid; grid-template-columns: 1.6em 3.4em 1fr; gap: 0 .3em; padding: .45em 0;
  border-bottom: 1px solid #999; break-inside: avoid; }
.box { display: inline-block; width: 1em; height: 1em; border: 1.5px solid #111; vertical-align: -.12em; }
.n { font-variant-numeric: tabular-nums; color: #444; }
p { margin: 0 0 .25em; }
.if { font-style: italic; } .note { color: #333; font-size: .93em; }
.danger { border: 2px solid #111; padding: .3em .5em; }
.slots { display: flex; flex-wrap: wrap; gap: .4em 1.2em; margin-top: .35em; }
.blank { display: inline-block; border-bottom: 1px solid #111; min-width: 5.5em; height: 1.5em; }
.long { min-width: 100%; }
table { border-collapse: collapse; margin: .5em 0; break-inside: avoid; }
caption { text-align: left; font-weight: bold; padding-bottom: .2em; }
th, td { border: 1px solid #666; padding: .2em .7em; text-align: right; }
th { background: #eee; }
.remarks { height: 9em; border: 1px solid #111; }
footer { margin-top: 1.5em; break-inside: avoid; }
@media print { body { font-size: 9.5pt; max-width: none; padding: 0; } li { padding: .3em 0; } }
@media (max-width: 30rem) { li { grid-template-columns: 1.6em 1fr; } .n { display: none; } h2 { display: block; } }
";

/// The worksheet as a whole HTML file.
pub fn sheet_html(sheet: &Sheet) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="generator" content=(concat!("tankhand ", env!("CARGO_PKG_VERSION")));
                title { (sheet.title) " (worksheet)" }
                style { (PreEscaped(STYLE)) }
            }
            body {
                (head(sheet))
                main {
                    @for part in &sheet.sections { (section(part)) }
                    @for table in &sheet.tables { (lookup(table)) }
                    p class="note" { (super::legend()) }
                    h2 { "Remarks" }
                    div class="remarks" {}
                }
                footer {
                    p { "Signed, with date: " span class="blank" style="min-width: 18em" {} }
                    p class="note" {
                        "To type it in: " code { "tankhand run " (sheet.name) " --from-paper" }
                    }
                }
            }
        }
    };
    page.into_string()
}

fn head(sheet: &Sheet) -> Markup {
    let tank = sheet.tank.as_ref().map(|tank| format!("tank {tank}"));
    let place: Vec<String> = sheet.site.iter().cloned().chain(tank).collect();
    html! {
        header {
            h1 { (sheet.title) }
            p { (sheet.purpose) }
            dl {
                @if !place.is_empty() { dt { "Place" } dd { (place.join(", ")) } }
                @if let Some(time) = &sheet.time { dt { "Time" } dd { "about " (time) } }
                @if !sheet.bring.is_empty() { dt { "Bring" } dd { (sheet.bring.join("; ")) } }
                dt { "Day, time" } dd { span class="blank" {} " " span class="blank" {} }
                dt { "Who" } dd { span class="blank" style="min-width: 16em" {} }
                @if !sheet.known.is_empty() {
                    dt { "Known" }
                    dd { @for (at, (name, value)) in sheet.known.iter().enumerate() {
                        @if at > 0 { "; " } (name) " " b { (value) }
                    } }
                }
            }
        }
    }
}

fn section(section: &SheetSection) -> Markup {
    html! {
        section {
            h2 { span { (section.title) } span class="time" { "begun " span class="blank" {} } }
            ol { @for line in &section.items { (item(line)) } }
        }
    }
}

fn item(item: &SheetItem) -> Markup {
    let ticked = item.slot == Slot::Tick && item.rounds <= 1;
    html! {
        li {
            span { @if ticked { span class="box" {} } }
            span class="n" { (item.number) }
            div {
                @if let Some(only_if) = &item.only_if { p class="if" { "Only if " (only_if) ":" } }
                @if let Some(danger) = &item.danger {
                    p class="danger" { b { "Danger. " } (danger) " Read and understood: " span class="blank" {} }
                }
                p { (item.text) }
                @for note in &item.notes { p class="note" { (note) } }
                @if !ticked && item.slot != Slot::Nothing { div class="slots" { (slots(item)) } }
            }
        }
    }
}

fn slots(item: &SheetItem) -> Markup {
    html! {
        @for round in 1..=item.rounds.max(1) {
            span { @if item.rounds > 1 { (round) ": " } (slot(&item.slot)) }
        }
    }
}

fn slot(slot: &Slot) -> Markup {
    html! {
        @match slot {
            Slot::Nothing => {}
            Slot::Tick => { span class="box" {} }
            Slot::Numbers(unit, times) => {
                @for _ in 0..*times { span class="blank" {} " " }
                @if let Some(unit) = unit { (unit) }
            }
            Slot::Words(words) => {
                @for word in words { span class="box" {} " " (word) "\u{2003}" }
            }
            Slot::Line => { span class="blank" style="min-width: 22em" {} }
            Slot::Waited => { "waited " span class="blank" {} }
            Slot::Verdict => {
                @for word in ["pass", "fail", "can't tell"] { span class="box" {} " " (word) "\u{2003}" }
            }
        }
    }
}

fn lookup(table: &LookupTable) -> Markup {
    html! {
        table {
            caption { (table.title) }
            thead { tr { @for word in &table.head { th scope="col" { (word) } } } }
            tbody { @for row in &table.rows { tr { @for cell in row { td { (cell) } } } } }
        }
        p class="note" { (table.note) }
    }
}
