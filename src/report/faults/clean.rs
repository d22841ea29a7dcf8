//! Text from a file, fit for a terminal.

use crate::words::harmless;

/// With nothing in it that commands a terminal; tabs become a space each, so that columns hold.
pub(super) fn clean(text: &str) -> String {
    harmless(&text.replace("\r\n", "\n").replace('\t', " "))
}

/// The same, on one line.
pub(super) fn one_line(text: &str) -> String {
    clean(text).replace('\n', " ")
}
