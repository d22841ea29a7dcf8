//! Reports: what a person is shown of faults, procedures and records, values first.
//!
//! A view is built as a [`Page`] of headings, tables, lists and notes, which knows nothing of
//! widths, colours or files. Turning a page into bytes comes last, in one place for each form:
//! [`to_text`] makes lines for a terminal or a text file, [`to_html`] a file for paper and screens.

mod account;
mod answers;
mod editing;
mod explanation;
mod export;
mod faults;
#[expect(clippy::wildcard_enum_match_arm, reason = "each stage of a drawing draws some of the marks")]
mod figure;
mod file_comparison;
mod finding;
mod guide;
mod html;
mod installation;
mod installation_keys;
mod layouts;
mod listing;
mod logbook;
mod machine;
mod outline;
mod page;
mod plan;
mod reading;
mod reasons;
mod record_comparison;
mod record_format;
mod run_view;
mod schema;
mod sheet;
mod shipped_pages;
mod steps;
mod summary;
mod tag;
mod text;
mod trend;
mod uncertainty_page;
mod wording;

pub use account::{RecordSeals, report_pages};
pub(crate) use answers::finding_words;
pub use editing::{EDITS, OwnerEdit};
pub(crate) use explanation::{COVERAGE, check_lines, explanation_lines, explanation_page, interval_words};
pub(crate) use export::{ExportForm, ExportWriter};
pub use export::{QUESTIONS, columns_page};
pub use faults::faults_text;
pub use figure::{Axis, Figure, PlotMark, PlotShape, PlotTone, Point, Scale, Spread};
pub use file_comparison::file_comparison_page;
pub use finding::{brief_lines, closing_lines, review};
pub use guide::{GuideTopic, TOPICS, guide_page};
pub(crate) use guide::{OTHER_TOPICS, guide_contents};
pub(crate) use html::kept_file;
pub use html::{HtmlForm, all_to_html, to_html};
pub use installation::installation_page;
pub use listing::{account_line, put_account, records_page};
pub use logbook::{Due, LogbookTank, calendar, logbook_page};
pub use machine::{faults_json_lines, sound_json_line};
pub(crate) use outline::part_page;
pub use outline::{Places, procedure_page};
pub use page::{Page, PageBlock, Row};
pub use plan::{BasisKind, BasisOf, PlanBasis, PlanView, plan_json, plan_page};
pub use reading::record_page;
pub(crate) use reasons::reason_lines;
pub use record_comparison::record_comparison_page;
pub use record_format::{SHELL, SIGN, VERIFY_SIGNATURE, record_format_page};
pub use run_view::RunView;
pub use schema::{procedure_schema, record_schema, system_schema};
pub use sheet::{Sheet, SheetItem, SheetSection, Slot, sheet_html, sheet_text, worksheet};
pub use summary::summary_page;
pub use tag::{NoTag, tag_pages};
pub use text::to_text;
pub use trend::{TrendOrder, Visit, trend_due, trend_figure, trend_page};
pub use uncertainty_page::{WRONG_LAWS, WrongLaw};
pub(crate) use wording::lost_entries;
pub use wording::outcome_word;
