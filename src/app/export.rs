//! `records export`: records as lines for other programs, one record after the other.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::builder::{PossibleValuesParser, TypedValueParser};

use super::arguments::{ArgumentWords, one_of};
use super::files::{put_page, write_new};
use super::kept_setting::setting;
use super::record_filter::RecordFilter;
use super::records::done;
use super::resume::find_record;
use super::unseen::none_seen;
use super::{Done, Home, Result};
use crate::engine::Setting;
use crate::record::{Contents, EntryKind, FileOrder, KeptText, RecordFolder, Trouble, glance, read};
use crate::report::{ExportForm, ExportWriter, RunView, account_line, columns_page};
use crate::words::{counted, path_shown};

/// How many procedures are kept at hand, so that records made with the same are read quickly.
const PROCEDURES_AT_HAND: usize = 4;

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

/// What is to be exported.
#[derive(Debug, clap::Args)]
pub struct ExportOrder {
    /// Runs' names, or paths of their files; left out, all.
    pub ids: Vec<String>,
    /// How it is written.
    #[arg(long, value_parser = one_of(FORMS), default_value = "csv")]
    pub format: ExportForm,
    /// A new file to write to; else it is printed.
    #[arg(long, value_name = "FILE")]
    pub to: Option<PathBuf>,
    /// Only entries of this kind, such as reading; may be given again, or several with commas.
    #[arg(long = "kind", value_name = "KIND", value_delimiter = ',', value_parser = kind_of_entry())]
    pub kinds: Vec<EntryKind>,
    #[command(flatten)]
    pub filter: RecordFilter,
    /// Tell what the columns mean, and export nothing.
    #[arg(long)]
    pub columns: bool,
}

fn kind_of_entry() -> impl TypedValueParser<Value = EntryKind> {
    let words = PossibleValuesParser::new(EntryKind::all().map(EntryKind::word));
    words.try_map(|word| EntryKind::named(&word).ok_or("it is no kind of entry"))
}

/// Exports records; what had to be left out is told to `aside`.
///
/// # Errors
/// When a record named is not there, the file is there already, or writing fails.
pub fn export(order: &ExportOrder, home: &Home, out: &mut dyn Write, aside: &mut dyn Write) -> Result<Done> {
    let mut work = Export {
        order,
        procedures: Vec::new(),
        left_out: Vec::new(),
        records: 0,
        account: None,
        done: Done::Well,
    };
    match &order.to {
        None => work.write(home, out)?,
        Some(path) => {
            write_new(path, |file| work.write(home, file))?;
            writeln!(out, "{}: {}", path_shown(path), counted(work.records, "record"))?;
        }
    }
    for line in work.left_out.iter().chain(&work.account) {
        writeln!(aside, "{line}")?;
    }
    Ok(if work.left_out.is_empty() { work.done } else { Done::Short })
}

/// Shows what the columns of an export mean.
///
/// # Errors
/// When writing fails.
pub(crate) fn export_columns(width: usize, out: &mut dyn Write) -> Result<Done> {
    put_page(&columns_page(), width, out)
}

struct Export<'a> {
    order: &'a ExportOrder,
    /// The texts of the latest procedures with what they were read as, the latest first.
    procedures: Vec<(Vec<KeptText>, Option<Setting>)>,
    left_out: Vec<String>,
    records: usize,
    /// What became of every file of the folder.
    account: Option<String>,
    done: Done,
}

impl Export<'_> {
    fn write(&mut self, home: &Home, out: &mut dyn Write) -> Result<()> {
        let named: Vec<PathBuf> =
            self.order.ids.iter().map(|id| find_record(id, home)).collect::<Result<_, _>>()?;
        let mut writer = ExportWriter::begin(self.order.format, &self.order.kinds, out)?;
        writer.only_of(self.order.filter.tank.as_deref());
        if self.order.ids.is_empty() {
            self.folder(home, &mut writer)?;
        }
        for path in named {
            match glance(&path) {
                Ok(glance) if glance.practice || !self.order.filter.takes(&glance) => {}
                Ok(_) => drop(self.record(&path, &mut writer)?),
                Err(fault) => self.left_out.push(format!("Left out: {fault}")),
            }
        }
        Ok(writer.finish()?)
    }

    /// Writes the records of the folder that are meant, and says what became of every file.
    fn folder(&mut self, home: &Home, writer: &mut ExportWriter<&mut dyn Write>) -> Result<()> {
        let mut folder = RecordFolder::of(&home.records(), FileOrder::Oldest);
        while let Some(glance) = folder.next_record()? {
            if self.order.filter.takes(&glance) && !self.record(&glance.path, writer)? {
                folder.account.retract(None);
            }
        }
        self.left_out.extend(folder.account.faults.iter().map(|fault| match fault.trouble {
            Trouble::Renamed { .. } => fault.to_string(),
            _ => format!("Left out: {fault}"),
        }));
        self.account = Some(match folder.account.files {
            0 => none_seen(home),
            _ => account_line(&folder.account),
        });
        self.done = done(&folder.account);
        Ok(())
    }

    /// Writes one record, when its seals hold; says whether they do.
    fn record(&mut self, path: &Path, writer: &mut ExportWriter<&mut dyn Write>) -> Result<bool> {
        match read(path) {
            Ok(contents) => {
                self.note_gaps(path, &contents);
                let setting = self.setting(&contents);
                let procedure = setting.map(|setting| setting.procedure.as_ref());
                let system = setting.map(|setting| setting.system.as_ref());
                writer.write(&RunView::new(&contents, procedure).on(system, None))?;
                self.records += 1;
                Ok(true)
            }
            Err(fault) => {
                self.left_out.push(format!("Left out: {fault}"));
                Ok(false)
            }
        }
    }

    fn note_gaps(&mut self, path: &Path, contents: &Contents) {
        if let Some(torn) = &contents.torn {
            self.left_out.push(format!("{}:{}: left out: {}", path_shown(path), torn.line, torn.message()));
        }
        for foreign in &contents.foreign {
            let (path, n, kind) = (path_shown(path), foreign.n, foreign.kind.escape_debug());
            self.left_out.push(format!("{path}: left out: entry {n}, of a kind unknown here, `{kind}`"));
        }
    }

    /// The procedure and system file a record keeps, when this version takes them.
    fn setting(&mut self, contents: &Contents) -> Option<&Setting> {
        let texts = &contents.header.texts;
        match self.procedures.iter().position(|(known, _)| known == texts) {
            Some(at) => self.procedures[..=at].rotate_right(1),
            None => {
                self.procedures.truncate(PROCEDURES_AT_HAND - 1);
                self.procedures.insert(0, (texts.clone(), setting(contents).ok()));
            }
        }
        self.procedures.first()?.1.as_ref()
    }
}
