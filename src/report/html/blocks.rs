//! The blocks of a page as HTML.

use data_encoding::BASE64;
use maud::{Markup, html};

use crate::report::wording::verdict_key;
use crate::report::{PageBlock, Row};
use crate::words::harmless;

/// What leads a file that a page holds.
pub(super) const KEPT: &str = "data:application/toml;base64,";
/// Columns that stand before the name of what a row is about.
const LEADS: [&str; 6] = ["Verdict", "Time", "No.", "By", "Day", "Grade"];
/// A number or a day of so many letters or fewer is not broken.
const UNBROKEN: usize = 18;
/// A table of so many columns or more is stacked on a narrow screen.
const STACKED_FROM: usize = 4;

/// Text as it is put in: nothing that commands, and no line end between a number and what belongs to it, nor within a
/// day.
fn legible(text: &str) -> Markup {
    let text = harmless(text).replace(" ± ", "\u{a0}±\u{a0}").replace(" %", "\u{a0}%");
    let words =
        text.split_inclusive(char::is_whitespace).map(|word| match word.split_at_checked(DAY.len()) {
            Some((day, rest)) if is_day(day) && !rest.starts_with(char::is_alphanumeric) => (Some(day), rest),
            _ => (None, word),
        });
    html! { @for (day, rest) in words { @if let Some(day) = day { span.day { (day) } } (rest) } }
}

/// A day as it is written, a 0 for every digit.
const DAY: &str = "0000-00-00";

fn is_day(word: &str) -> bool {
    word.chars().map(|c| if c.is_ascii_digit() { '0' } else { c }).eq(DAY.chars())
}

/// The blocks in their order, neighbouring figures side by side; `figures` counts them, so that
/// each has names of its own.
pub(super) fn all(blocks: &[PageBlock], figures: &mut usize) -> Markup {
    let is_figure = |block: &PageBlock| matches!(block, PageBlock::Figure(_));
    html! {
        @for group in blocks.chunk_by(|a, b| is_figure(a) && is_figure(b)) {
            @if is_figure(&group[0]) {
                div.figures { @for block in group { (one(block, figures)) } }
            } @else {
                @for block in group { (one(block, figures)) }
            }
        }
    }
}

fn one(block: &PageBlock, figures: &mut usize) -> Markup {
    match block {
        PageBlock::Heading(text) => html! { h2 { (legible(text)) } },
        PageBlock::Lead(text) => html! { p.lead { (legible(text)) } },
        PageBlock::Text(text) => html! { p { (legible(text)) } },
        PageBlock::Note(text) => html! { p.note { strong { "Note: " } (legible(text)) } },
        PageBlock::List(items) => html! { ul { @for item in items { li { (legible(item)) } } } },
        PageBlock::Listing(text) => html! { pre { (legible(text)) } },
        PageBlock::Signatures(who) => html! {
            div.signatures { @for who in who { p { (legible(who)) } } }
        },
        PageBlock::Code(text) => super::code::svg(text),
        PageBlock::File { name, bytes } => html! {
            p.file { a href=(format!("{KEPT}{}", BASE64.encode(bytes))) download=(harmless(name)) { "Save the record, " (legible(name)) } }
        },
        PageBlock::Table { head, rows } if head.iter().all(String::is_empty) => pairs(rows),
        PageBlock::Table { head, rows } => table(head, rows),
        PageBlock::Figure(figure) => {
            *figures += 1;
            html! {
                figure {
                    (figure.to_svg(&format!("figure-{figures}")))
                    figcaption { strong { (legible(&figure.title)) ". " } (legible(&figure.says)) }
                }
            }
        }
    }
}

/// Rows without a head: what it is, and the rest.
fn pairs(rows: &[Row]) -> Markup {
    html! {
        dl {
            @for row in rows {
                div {
                    dt { (legible(row.cells.first().map_or("", String::as_str))) }
                    dd { (legible(&row.cells.get(1..).unwrap_or_default().join(" "))) }
                }
            }
        }
    }
}

/// A table with a head; on a narrow screen the cells of a wide one are stacked, each with its word.
fn table(head: &[String], rows: &[Row]) -> Markup {
    let form = match head {
        [first, ..] if first.is_empty() => "beside",
        [_, _] => "graded",
        _ if rows.iter().any(|row| row.verdict.is_some()) => "wide judged",
        _ if head.len() >= STACKED_FROM => "wide",
        _ => "plain",
    };
    html! {
        table class=(form) {
            thead {
                tr {
                    @for word in head {
                        @if word.is_empty() { td {} }
                        @else { th scope="col" { (legible(word)) } }
                    }
                }
            }
            tbody {
                @for row in rows { (table_row(head, row)) }
            }
        }
    }
}

fn table_row(head: &[String], row: &Row) -> Markup {
    // What a row is about names it; a verdict or a number before it does not.
    let leads = head.first().is_some_and(|word| LEADS.contains(&word.as_str()));
    let named = usize::from(head.len() >= 3 && leads);
    html! {
        tr.struck[row.struck] {
            @for (at, cell) in row.cells.iter().enumerate() {
                @let word = head.get(at).map_or("", String::as_str);
                @if at == named {
                    th scope="row" data-label=(harmless(word)) { (inside(row, cell, at == named)) }
                } @else {
                    td.n[is_unbroken(cell)] data-label=(harmless(word)) { (inside(row, cell, false)) }
                }
            }
        }
    }
}

/// Whether a cell is a number or a day, and so stays in one line.
fn is_unbroken(cell: &str) -> bool {
    cell.chars().count() <= UNBROKEN && cell.starts_with(|c: char| c.is_ascii_digit() || c == '-')
}

/// What stands in a cell: a verdict in its frame, what is struck out with a word that says so.
fn inside(row: &Row, cell: &str, names: bool) -> Markup {
    let verdict = row.verdict.filter(|verdict| verdict.word() == cell);
    html! {
        @match verdict {
            Some(verdict) => span class=(format!("verdict {}", verdict_key(verdict))) { (cell) },
            None if row.struck => { s { (legible(cell)) } @if names { " " em { "withdrawn" } } },
            None => (legible(cell)),
        }
    }
}
