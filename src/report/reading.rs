//! The whole record in order: every entry, what was taken back shown as taken back.

use super::answers::{amount, marked};
use super::run_view::{EntryView, RunView};
use super::wording::{lacks, outcome_words, typed_in, verdict_words, when, when_after, with_findings};
use super::{Page, PageBlock, Row};
use crate::record::{Entry, EntryKind, Grade};
use crate::words::non_empty;

const HEAD: &[&str] = &["No.", "Time", "Step", "Question", "Answer"];
/// The most characters of a question that are shown.
const LONGEST_QUESTION: usize = 90;

/// Everything a record holds, in its order and by the parts of the work. `seals` says how its
/// seals were found, as [`verify`](crate::record::verify) tells it.
pub fn record_page(run: &RunView<'_>, seals: Option<&str>) -> Page {
    let contents = run.contents;
    let mut page = Page::titled(format!("{}: the whole record", contents.header.title));
    page.table(&[], run.head(seals));
    run.put_entries(&mut page);
    let foreign = contents.foreign.iter().map(|entry| format!("entry {}, \"{}\"", entry.n, entry.kind));
    page.headed_list("Written by a later version, and not shown", foreign);
    page.heading("End");
    page.text(match &contents.summary {
        Some(end) => {
            let outcome = with_findings(outcome_words(Some(end.outcome)), end.grade, &end.found);
            format!("{}: {outcome}. {}", when(end.at), end.words)
        }
        None => "The run has not ended yet.".to_string(),
    });
    run.put_torn(&mut page);
    page
}

impl RunView<'_> {
    fn head(&self, seals: Option<&str>) -> Vec<Row> {
        let header = &self.contents.header;
        let texts = header.texts.iter().map(|text| format!("{} ({})", text.name, text.role.word()));
        let record = [("Record", Some(header.id.clone())), ("Procedure", Some(header.procedure.clone()))];
        let more = [
            ("Units", Some(header.units.name().to_string())),
            ("Program", Some(header.program.clone())),
            ("Texts kept", non_empty(texts.collect::<Vec<_>>().join("\n"))),
            ("Seals", seals.map(ToString::to_string)),
            ("Typed in", header.transcribed.map(typed_in)),
            ("Mended", header.mended.as_ref().map(lacks)),
            ("Invented", header.demo.then(|| "yes: a demonstration, with no real readings".to_string())),
        ];
        Row::led_by(record.into_iter().chain(self.occasion()).chain(more)).collect()
    }

    /// Adds a table for each part of the work, with its heading.
    fn put_entries(&self, page: &mut Page) {
        let sections = self.steps.sections(&self.contents.entries);
        let mut day = self.contents.header.started.date();
        let mut shown: Option<&Option<String>> = None;
        for (seen, section) in self.all.iter().zip(&sections) {
            let row = self.row(seen, &mut day);
            match page.blocks.last_mut() {
                Some(PageBlock::Table { rows, .. }) if shown == Some(section) => rows.push(row),
                _ => {
                    page.headed_table(section.as_deref().unwrap_or("Entries"), HEAD, vec![row]);
                    shown = Some(section);
                }
            }
        }
    }

    fn row(&self, EntryView { entry, counts, struck_by }: &EntryView<'_>, day: &mut String) -> Row {
        let withdrawn = entry.kind == EntryKind::Withdrawn;
        let mut answer = vec![answered(entry)];
        match struck_by {
            Some(by) => answer.push(format!("withdrawn, see {by}")),
            None if !counts && !withdrawn => answer.push("withdrawn with the answer before it".to_string()),
            None => {}
        }
        if let (Some(old), false) = (entry.replaces, withdrawn) {
            answer.push(format!("in place of {old}"));
        }
        answer.retain(|line| !line.is_empty());
        let cells = [
            entry.n.to_string(),
            when_after(day, entry.at),
            self.steps.label_of(entry),
            short(entry.asked.as_deref().unwrap_or("")),
            answer.join("\n"),
        ];
        Row::new(cells).struck_if(!counts && !withdrawn)
    }
}

/// What an entry tells: the answer as it was given, the gauge, the verdict, the words told.
fn answered(entry: &Entry) -> String {
    let reason = entry.reason.as_deref().unwrap_or("");
    let text = match entry.kind {
        EntryKind::Withdrawn => format!("takes back {}", entry.replaces.unwrap_or_default()),
        EntryKind::Note => format!("remark: {reason}"),
        EntryKind::Paused => "the work was left".to_string(),
        EntryKind::Resumed => "the work was gone on with".to_string(),
        EntryKind::Skipped => format!("left out: {reason}"),
        EntryKind::NotSo => format!("{}: it is not so", entry.given.as_deref().unwrap_or_default()),
        EntryKind::Stopped => "the work was stopped".to_string(),
        EntryKind::Message => String::new(),
        EntryKind::Finding => {
            let grade = entry.grade.map_or("", Grade::word);
            format!("found ({grade}): {}", entry.given.as_deref().unwrap_or_default())
        }
        EntryKind::WaitBegun => format!("wait begun, {}", amount(entry).unwrap_or_default()),
        EntryKind::Waited => format!("waited {}", amount(entry).unwrap_or_default()),
        EntryKind::Understood => entry.warned.join("\n"),
        EntryKind::Done => match entry.given.as_deref() {
            None | Some("") => "done".to_string(),
            Some(given) => given.to_string(),
        },
        EntryKind::Checked => match verdict_words(entry) {
            Some(verdict) if reason.is_empty() => verdict,
            verdict => format!("{}: {reason}", verdict.as_deref().unwrap_or("no verdict")),
        },
        EntryKind::Computed if entry.given.is_none() && !reason.is_empty() => format!("not known: {reason}"),
        EntryKind::Computed => amount(entry).or_else(|| entry.given.clone()).unwrap_or_default(),
        EntryKind::Reading | EntryKind::Fact | EntryKind::Choice | EntryKind::Text => as_given(entry),
    };
    let said = entry.message().unwrap_or_default();
    [text.as_str(), &said].iter().filter(|part| !part.is_empty()).copied().collect::<Vec<_>>().join("\n")
}

/// The answer as it was given; with the unit it was taken in, when a bare number was given, and
/// the gauge.
fn as_given(entry: &Entry) -> String {
    let given = entry.given.clone().unwrap_or_default();
    let bare = given.trim().parse::<f64>().is_ok();
    let mut text = match &entry.unit {
        Some(unit) if bare => format!("{given} {unit}"),
        _ => given,
    };
    if let Some(gauge) = &entry.gauge {
        text.push_str(&format!(" (gauge: {gauge})"));
    }
    marked(text, entry)
}

/// A question cut to a length, at a space.
fn short(question: &str) -> String {
    let Some((cut, _)) = question.char_indices().nth(LONGEST_QUESTION) else {
        return question.to_string();
    };
    let head = &question[..cut];
    let end = head.rfind(' ').filter(|end| *end > cut / 2).unwrap_or(cut);
    format!("{} ...", head[..end].trim_end())
}
