//! Text made fit for a page of lines.

use crate::words::{harmless, wrap};

/// A text with nothing in it that commands a terminal; tabs become spaces, line ends stay.
pub(super) fn clean(text: &str) -> String {
    harmless(&text.replace("\r\n", "\n").replace('\t', "    "))
}

/// A text after a lead, with its later lines under its first.
pub(in crate::report) fn hung(lead: &str, text: &str, width: usize) -> Vec<String> {
    let mut lines = wrap(&clean(text), width, lead.len());
    if let Some(first) = lines.first_mut() {
        let rest = first.get(lead.len()..).unwrap_or("");
        *first = format!("{lead}{rest}").trim_end().to_string();
    }
    lines
}
