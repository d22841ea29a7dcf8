//! The use cases, one file each: they join the layers below and decide nothing of their own.

mod calc;
mod check;
mod demo;
mod failure;
mod from_paper;
mod guide;
mod home;
mod library;
mod menu;
mod past;
mod procedures;
mod records;
mod resume;
mod run;
mod sheet;
mod walk;

pub use calc::calc;
pub use check::{FaultForm, check};
pub use demo::{DEMOS, Demo, PassingHome};
pub use failure::{Done, Failure};
pub use guide::{SchemaOf, guide, schema};
pub use home::Home;
pub use library::{Library, read_source};
pub use menu::menu;
pub use procedures::{copy, list, show};
pub use records::{list_records, show_record, verify_records};
pub use resume::resume;
pub use run::{RunOrder, run};
pub use sheet::sheet;
pub use walk::Stage;
