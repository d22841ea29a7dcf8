//! `records report` and `records tag`: a record as a file for others to read.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use super::failure::{Done, Failure};
use super::home::Home;
use super::resume::{find_record, setting};
use crate::engine::{Run, Setting};
use crate::lang::{Unknown, Value, Values};
use crate::record::{Contents, Trouble, last_seal, read, read_sealed_part, verify};
use crate::report::{Account, HtmlForm, Page, report_page, tag_page, to_html, to_text};

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
    let told = Telling::of(id, home)?;
    let page = told.with(report_page);
    told.put((&page, HtmlForm::Report), to, out)
}

/// Writes the tag of the tank a record is about.
///
/// # Errors
/// As [`report`]; also when the record does not tell how the tank was left.
pub fn tag(id: &str, to: &ReportTo, home: &Home, out: &mut dyn Write) -> Result<Done, Failure> {
    let told = Telling::of(id, home)?;
    match told.with(tag_page) {
        Some(page) => told.put((&page, HtmlForm::Tag), to, out),
        None => Err(Failure::Call(format!(
            "The record {} does not tell how the tank was left, so there is nothing to put on a tag.",
            told.contents.header.id
        ))),
    }
}

/// A record with everything its report needs.
struct Telling {
    contents: Contents,
    setting: Option<Setting>,
    run: Option<Run>,
    seals: String,
    last_seal: Option<String>,
    broken: Option<String>,
}

impl Telling {
    fn of(id: &str, home: &Home) -> Result<Telling, Failure> {
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
        Ok(Telling { contents, setting, run, seals, last_seal: last_seal(&path)?, broken })
    }

    fn with<T>(&self, make: impl FnOnce(&Account<'_>) -> T) -> T {
        let values = self.run.as_ref().map(Ended);
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

    fn put(
        &self,
        (page, form): (&Page, HtmlForm),
        to: &ReportTo,
        out: &mut dyn Write,
    ) -> Result<Done, Failure> {
        let id = &self.contents.header.id;
        let (word, own) = match form {
            HtmlForm::Report => ("Record", format!("{id}.html")),
            HtmlForm::Tag => ("Tag", format!("{id}-tag.html")),
        };
        let html = || to_html(page, form, &format!("{word} {id}"));
        match to {
            ReportTo::Text => to_text(page, COLUMNS).iter().try_for_each(|line| writeln!(out, "{line}"))?,
            ReportTo::Html(path) if path == Path::new("-") => write!(out, "{}", html())?,
            ReportTo::Html(path) => write_file(path, &html(), out)?,
            ReportTo::OwnFile => write_file(Path::new(&own), &html(), out)?,
        }
        Ok(if self.broken.is_some() { Done::Short } else { Done::Well })
    }
}

/// The values a run stands at.
struct Ended<'a>(&'a Run);

impl Values for Ended<'_> {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        self.0.value(name).ok_or_else(|| Unknown::because(format!("`{name}` is not known.")))
    }
}

/// Writes a file whole or not at all. A report that stands there is replaced, for it can always be
/// made again; any other file is left alone.
fn write_file(path: &Path, html: &str, out: &mut dyn Write) -> Result<(), Failure> {
    let wrong = |error: std::io::Error| Failure::Call(format!("{}: {error}", path.display()));
    if path.exists() && !is_own(path) {
        return Err(Failure::Call(format!(
            "{}: another file stands there, and is not overwritten. Name another with --html.",
            path.display()
        )));
    }
    let mut part = path.as_os_str().to_owned();
    part.push(".part");
    let part = PathBuf::from(part);
    fs::write(&part, html).map_err(wrong)?;
    fs::rename(&part, path).map_err(wrong)?;
    writeln!(out, "{} written.", path.display())?;
    Ok(())
}

/// Whether a file was made here before.
fn is_own(path: &Path) -> bool {
    let mark = r#"<meta name="generator" content="tankhand "#;
    fs::read(path).is_ok_and(|bytes| {
        let head = &bytes[..bytes.len().min(1024)];
        String::from_utf8_lossy(head).contains(mark)
    })
}
