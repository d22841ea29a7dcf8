//! What may be typed about records: which are meant, and how they are exported.

use std::path::PathBuf;

use clap::Args;
use clap::builder::PossibleValuesParser;

use super::shared_args::{ArgumentWords, one_of};
use crate::app::{ExportOrder, RecordFilter};
use crate::clock::Day;
use crate::record::{EntryKind, Outcome};
use crate::report::{ExportForm, outcome_word};

/// Which records are meant.
#[derive(Debug, Args)]
pub(super) struct RecordFilterArgs {
    /// Only of this tank.
    #[arg(long, value_name = "ID")]
    pub tank: Option<String>,
    /// Only of this procedure.
    #[arg(long, value_name = "NAME")]
    pub procedure: Option<String>,
    /// Only runs that ended so.
    #[arg(long, value_name = "WORDS", value_parser = PossibleValuesParser::new(outcome_words()))]
    pub outcome: Option<String>,
    /// Only runs begun on this day or later, such as 2031-04-05.
    #[arg(long, value_name = "DATE")]
    pub since: Option<Day>,
    /// Only runs begun on this day or earlier.
    #[arg(long, value_name = "DATE")]
    pub until: Option<Day>,
}

/// The words that lists show for the ends of runs.
fn outcome_words() -> [&'static str; 4] {
    [Some(Outcome::Completed), Some(Outcome::Failed), Some(Outcome::Unfinished), None].map(outcome_word)
}

impl RecordFilterArgs {
    pub fn filter(&self) -> RecordFilter<'_> {
        RecordFilter {
            tank: self.tank.as_deref(),
            procedure: self.procedure.as_deref(),
            outcome: self.outcome.as_deref(),
            since: self.since,
            until: self.until,
        }
    }
}

/// How an export is written.
const FORMS: ArgumentWords<ExportForm> = &[
    (
        "csv",
        Some("Comma-separated values with a line of names, for spreadsheets and statistics"),
        ExportForm::Csv,
    ),
    ("jsonl", Some("JSON Lines: one object an entry"), ExportForm::JsonLines),
    ("sql", Some("SQL: a table with typed columns, and its rows"), ExportForm::Sql),
];

#[derive(Debug, Args)]
pub(super) struct ExportArgs {
    /// Runs' names, or paths of their files; left out, all.
    pub ids: Vec<String>,
    /// How it is written.
    #[arg(long, value_parser = one_of(FORMS), default_value = "csv")]
    pub format: ExportForm,
    /// A new file to write to; else it is printed.
    #[arg(long, value_name = "FILE")]
    pub to: Option<PathBuf>,
    /// Only entries of this kind, such as reading; may be given again, or several with commas.
    #[arg(long = "kind", value_name = "KIND", value_delimiter = ',',
          value_parser = PossibleValuesParser::new(EntryKind::all().map(EntryKind::word)))]
    pub kinds: Vec<String>,
    #[command(flatten)]
    pub filter: RecordFilterArgs,
    /// Tell what the columns mean, and export nothing.
    #[arg(long)]
    pub columns: bool,
}

impl ExportArgs {
    pub fn order<'a>(&'a self, kinds: &'a [EntryKind]) -> ExportOrder<'a> {
        ExportOrder {
            ids: &self.ids,
            filter: self.filter.filter(),
            kinds,
            form: self.format,
            to: self.to.as_deref(),
        }
    }
}
