//! A page as one HTML file: no script, nothing from elsewhere, fit for paper and for a phone.
//!
//! Text is escaped where it is put in, without exception. Meaning never hangs on colour: verdicts
//! are words in differing frames, what is struck out says so, figures have their own words.

mod blocks;
mod code;

use data_encoding::BASE64;
use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::{Page, PageBlock};
use crate::words::harmless;

/// What makes the card as large as A6, 148 by 105 mm.
const A6: &str = "@page { size: 148mm 105mm; }\narticle { zoom: 1.16; }\n";

/// What a page becomes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HtmlForm {
    /// A report on sheets of Letter or A4.
    Report,
    /// A card of 5 by 3 inches.
    Tag,
    /// The same card, larger, on a sheet of A6.
    TagA6,
}

/// The page as a whole HTML file; `name` is what windows and tabs call it.
///
/// ```
/// use tankhand::report::{HtmlForm, Page, to_html};
/// let mut page = Page::titled("The <old> tank");
/// page.text("As left.");
/// let html = to_html(&page, HtmlForm::Report, "Record 1");
/// assert!(html.starts_with("<!DOCTYPE html>"));
/// assert!(html.contains("<h1>The &lt;old&gt; tank</h1>") && html.contains("<p>As left.</p>"));
/// ```
pub fn to_html(page: &Page, form: HtmlForm, name: &str) -> String {
    all_to_html(std::slice::from_ref(page), form, name)
}

/// Several pages in one HTML file, each on sheets or a card of its own.
pub fn all_to_html(pages: &[Page], form: HtmlForm, name: &str) -> String {
    let body = html! {
        @for (at, page) in pages.iter().enumerate() {
            article { (content(page, at > 0 && form == HtmlForm::Report)) }
        }
    };
    let style = match form {
        HtmlForm::Report => format!("{}{}", include_str!("report.css"), running_head(name)),
        HtmlForm::Tag => include_str!("tag.css").to_string(),
        HtmlForm::TagA6 => format!("{}{A6}", include_str!("tag.css")),
    };
    whole_file(name, &style, body)
}

/// The file that a page holds, when it holds one.
pub(crate) fn kept_file(html: &str) -> Option<Vec<u8>> {
    let (_, rest) = html.split_once(&format!("href=\"{}", blocks::KEPT))?;
    BASE64.decode(rest.split_once('"')?.0.as_bytes()).ok()
}

/// What the page is called, on every sheet.
pub(super) fn running_head(name: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || c == ' ' || c == ',';
    let escaped: String =
        name.chars().map(|c| if plain(c) { c.to_string() } else { format!("\\{:06x}", c as u32) }).collect();
    format!(
        "@page {{ @top-left {{ content: \"{escaped}\"; font: 9pt Charter, Cambria, Georgia, serif; }} }}\n"
    )
}

/// A whole file round what stands on it: no script, nothing from elsewhere.
pub(super) fn whole_file(name: &str, style: &str, body: Markup) -> String {
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="generator" content=(concat!("tankhand ", env!("CARGO_PKG_VERSION")));
                title { (harmless(name)) }
                style { (PreEscaped(style)) }
            }
            body { main { (body) } }
        }
    };
    markup.into_string() + "\n"
}

/// Blocks up to the first heading stand at the top, then each heading begins a section. A file has one
/// main heading, so that later pages of a report have a `lesser` one.
fn content(page: &Page, lesser: bool) -> Markup {
    let is_heading = |block: &PageBlock| matches!(block, PageBlock::Heading(_));
    let first = page.blocks.iter().position(is_heading).unwrap_or(page.blocks.len());
    let (top, rest) = page.blocks.split_at(first);
    let mut figures = 0;
    html! {
        header {
            @match &page.title {
                Some(title) if lesser => h2.part { (harmless(title)) },
                Some(title) => h1 { (harmless(title)) },
                None => {},
            }
            (blocks::all(top, &mut figures))
        }
        @for section in rest.chunk_by(|_, next| !is_heading(next)) {
            section { (blocks::all(section, &mut figures)) }
        }
    }
}
