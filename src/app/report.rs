//! `records report` and `records tag`: a record as a file for others to read.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::failure::{Done, Failure};
use super::files::write_page;
use super::home::Home;
use super::resume::{find_record, setting};
use crate::engine::{Run, Setting};
use crate::lang::{Unknown, Value, Values};
use crate::record::{Contents, Trouble, last_seal, read, read_sealed_part, verify};
use crate::report::{Account, HtmlForm, Page, all_to_html, report_page, tag_pages, to_text};

/// The width of a report in text: it is made to be sent.
const COLUMNS: usize = 80;

/// Where a report or tag goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReportTo {
    /// As HTML to a file; `-` is the output.
    Html(PathBuf),
    /// As HTML to a file named after the record, in the current folder.
    OwnFile,
    /// As text to the output.
    Text,
}

/// Writes the report of a record.
///
/// # Errors
/// When there is no such record, it cannot be read, or the file cannot be written.
pub fn report(id: &str, to: &ReportTo, home: &Home, out: &mut dyn Write) -> Result<Done, Failure> {
    let source = ReportSource::of(id, home)?;
    let page = source.with(report_page);
    source.put(&Printed { pages: &[page], form: HtmlForm::Report }, to, out)
}

/// Writes the tag of the tank a record is about; of several tanks, one each.
///
/// # Errors
/// As [`report`]; also when nothing was left that a tag could tell.
pub fn tag(id: &str, to: &ReportTo, home: &Home, out: &mut dyn Write) -> Result<Done, Failure> {
    let source = ReportSource::of(id, home)?;
    let pages = source.with(tag_pages).map_err(|why| {
        Failure::Call(format!(
            "There is no tag to be made of the record {}: {why}.",
            source.contents.header.id
        ))
    })?;
    source.put(&Printed { pages: &pages, form: HtmlForm::Tag }, to, out)
}

/// A record with everything its report needs.
struct ReportSource {
    contents: Contents,
    setting: Option<Setting>,
    run: Option<Run>,
    seals: String,
    last_seal: Option<String>,
    broken: Option<String>,
}

impl ReportSource {
    fn of(id: &str, home: &Home) -> Result<ReportSource, Failure> {
        let path = find_record(id, home)?;
        let (contents, broken) = match read(&path) {
            Ok(contents) => (contents, None),
            Err(fault) if matches!(fault.trouble, Trouble::Edited(_)) => {
                (read_sealed_part(&path)?, Some(fault.trouble.what()))
            }
            Err(fault) => return Err(fault.into()),
        };
        let seals = verify(&path)?.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
        // A record stays readable when this program no longer takes its procedure.
        let setting = setting(&contents).ok();
        let last = contents.summary.as_ref().map_or(contents.header.started, |end| end.at);
        let run = setting.clone().and_then(|setting| Run::replay(setting, &contents.entries, last).ok());
        let run = run.map(|(run, _)| run);
        Ok(ReportSource { contents, setting, run, seals, last_seal: last_seal(&path)?, broken })
    }

    fn with<T>(&self, make: impl FnOnce(&Account<'_>) -> T) -> T {
        let values = self.run.as_ref().map(RunValues);
        make(&Account {
            contents: &self.contents,
            procedure: self.setting.as_ref().map(|setting| setting.procedure.as_ref()),
            system: self.setting.as_ref().map(|setting| setting.system.as_ref()),
            values: values.as_ref().map(|values| values as &dyn Values),
            seals: &self.seals,
            last_seal: self.last_seal.as_deref(),
            broken: self.broken.as_deref(),
        })
    }

    fn put(&self, printed: &Printed<'_>, to: &ReportTo, out: &mut dyn Write) -> Result<Done, Failure> {
        let Printed { pages, form } = *printed;
        let id = &self.contents.header.id;
        let (word, own) = match form {
            HtmlForm::Report => ("Record", format!("{id}.html")),
            HtmlForm::Tag => ("Tag", format!("{id}-tag.html")),
        };
        let html = || all_to_html(pages, form, &format!("{word} {id}"));
        match to {
            ReportTo::Text => {
                let texts: Vec<String> = pages.iter().map(|page| to_text(page, COLUMNS).join("\n")).collect();
                writeln!(out, "{}", texts.join("\n\n\n"))?;
            }
            ReportTo::Html(path) if path == Path::new("-") => write!(out, "{}", html())?,
            ReportTo::Html(path) => write_page(path, &html(), out)?,
            ReportTo::OwnFile => write_page(Path::new(&own), &html(), out)?,
        }
        Ok(if self.broken.is_some() { Done::Short } else { Done::Well })
    }
}

/// Pages, and what they become.
struct Printed<'a> {
    pages: &'a [Page],
    form: HtmlForm,
}

/// The values a run stands at.
struct RunValues<'a>(&'a Run);

impl Values for RunValues<'_> {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        self.0.value(name).ok_or_else(|| Unknown::because(format!("`{name}` is not known.")))
    }
}
