//! The use cases, one file each: they join the layers below and decide nothing of their own.

mod calc;
mod check;
#[deny(clippy::wildcard_enum_match_arm)]
mod conversation;
mod demo;
mod export;
mod failure;
mod files;
mod from_paper;
mod guide;
mod home;
mod library;
mod menu;
#[cfg(test)]
mod new_verb;
mod past;
mod procedures;
mod record_filter;
mod records;
mod report;
mod resume;
mod run;
mod sheet;
mod trend;

pub use calc::{Calculation, calc};
pub use check::{FaultForm, check};
pub use conversation::Stage;
pub use demo::{DEMOS, Demo, PassingHome};
pub use export::{ExportOrder, export, export_columns};
pub use failure::{Done, Failure};
pub use guide::{SchemaOf, guide, schema};
pub use home::Home;
pub use library::{Library, read_source};
pub use menu::menu;
pub use procedures::{copy, list, show};
pub use record_filter::RecordFilter;
pub use records::{list_records, show_record, verify_records};
pub use report::{ReportTo, report, tag};
pub use resume::resume;
pub use run::{RunOrder, run};
pub use sheet::{SheetForm, sheet};
pub use trend::{TrendCall, trend};
