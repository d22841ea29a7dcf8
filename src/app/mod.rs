//! The use cases, one file each: they join the layers below and decide nothing of their own.

mod anonymous;
mod asking;
mod beside;
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
mod installation;
mod kept_setting;
mod library;
mod logbook;
mod menu;
#[cfg(test)]
mod new_verb;
mod open_runs;
mod opened;
mod past;
mod plan;
mod practice;
mod procedures;
mod record_filter;
mod records;
mod report;
mod resume;
mod run;
mod sheet;
mod trend;
mod unfinished;

pub use calc::{Calculation, calc};
pub(crate) use check::FaultForm;
pub use check::check;
pub use conversation::{Occasion, Stage};
pub(crate) use demo::PassingHome;
pub use demo::{DEMOS, Demo};
pub use export::export;
pub(crate) use export::{ExportOrder, export_columns};
pub use failure::{Done, Failure};
pub(crate) use files::write_pages;
pub(crate) use guide::SchemaOf;
pub use guide::{guide, schema};
pub use home::Home;
pub use installation::{InstallationOrder, installation};
pub use library::Library;
pub(crate) use library::read_source;
pub use logbook::{LogbookTo, logbook};
pub(crate) use menu::menu;
pub use plan::{PlanCall, PlanForm, list_sizes, plan};
pub use practice::{PracticeOrder, practice};
pub use procedures::{copy, list, show};
pub(crate) use record_filter::RecordFilter;
pub use records::verify_records;
pub(crate) use records::{list_records, show_record};
pub use report::{ReportTo, anonymous_report, compare, report, tag};
pub use resume::resume;
pub use run::{RunOrder, run};
pub(crate) use sheet::SheetForm;
pub use sheet::sheet;

pub use trend::{TrendCall, trend};
