//! Records for other programs: one line an entry, as CSV or as JSON Lines.
//!
//! [`Column`] is the one table of what a line tells; writers and documentation are made from it.

mod columns;
mod line;
mod writer;

pub use columns::{Column, columns_page};
pub use writer::{ExportForm, ExportWriter};
