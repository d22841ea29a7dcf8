//! Records for other programs: one line an entry, as CSV, as JSON Lines or as SQL.
//!
//! [`columns::Column`] is the one table of what a line tells; writers and documentation are made from it.

mod columns;
mod line;
mod questions;
mod sql;
mod writer;

pub use columns::columns_page;
pub use questions::QUESTIONS;
pub(crate) use writer::{ExportForm, ExportWriter};
