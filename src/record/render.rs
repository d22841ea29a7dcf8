//! The blocks of a record as text: header, entry, result, each without its seal.

use thiserror::Error;
use toml::Value;

use super::literal::{is_finite, key, long_string, value};
use super::seal::sha256;
use super::{Entry, ForNow, Grade, Header, KeptText, Phase, Provenance, Summary};
use crate::clock::Moment;
use crate::quantity::{Truth, Verdict};

/// The number of the format this version writes.
pub(super) const FORMAT: i64 = 1;

/// What stands above everything else in a record.
pub(super) const GREETING: &str = "\
# The record of one run of a procedure, kept as it went. It is plain text (TOML 1.0).
# Each line that begins with seal = holds the SHA-256 of the bytes from the seal before it up to
# that line: an edit shows. To remark on something, keep a note elsewhere.

";

/// A number that is none was to be written.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("`{key}` is not a finite number")]
pub(super) struct NotANumber {
    /// The key it was for.
    pub key: String,
}

/// The head of a record, up to the line of its seal.
pub(super) fn header(header: &Header) -> String {
    let mut out = KeyLines::new(GREETING);
    out.put("format", Value::Integer(FORMAT));
    out.text("program", Some(&header.program));
    out.text("id", Some(&header.id));
    out.text("procedure", Some(&header.procedure));
    out.text("title", Some(&header.title));
    out.moment("started", header.started);
    out.text("units", Some(header.units.name()));
    out.text("site", header.site.as_deref());
    out.text("tank", header.tank.as_deref());
    out.texts("tanks", &header.tanks);
    if header.demo {
        out.put("demo", Value::Boolean(true));
    }
    if let Some(practice) = &header.practice {
        out.text("practice", Some(&practice.fault));
        out.count("seed", Some(practice.seed));
    }
    if let Some(typed) = header.transcribed {
        out.moment("transcribed", typed);
    }
    out.texts("without", &header.without);
    if let Some(mended) = &header.mended {
        out.text("mended", Some(&mended.from));
        let lost = mended.lost.iter().map(|n| Value::Integer(i64::try_from(*n).unwrap_or(i64::MAX)));
        out.put("lost", Value::Array(lost.collect()));
        out.put("head_lost", Value::Boolean(mended.head));
    }
    for text in &header.texts {
        kept(&mut out, text);
    }
    out.written.push_str("\n[sealed]\n");
    out.written
}

/// One kept text.
fn kept(out: &mut KeyLines, kept: &KeptText) {
    out.written.push_str("\n[[text]]\n");
    out.text("role", Some(kept.role.word()));
    out.text("name", Some(&kept.name));
    out.text("sha256", Some(&sha256(&kept.text)));
    out.written.push_str("text = ");
    long_string(&mut out.written, &kept.text);
    out.written.push('\n');
}

/// One entry, up to the line of its seal.
///
/// # Errors
/// A number that is none.
pub(super) fn entry(entry: &Entry) -> Result<String, NotANumber> {
    let mut out = KeyLines::new("\n[[entry]]\n");
    out.count("n", Some(entry.n));
    out.text("kind", Some(entry.kind.word()));
    out.text("step", Some(&entry.step));
    if !entry.round.is_empty() {
        let rounds = entry.round.iter().map(|round| Value::Integer(i64::from(*round)));
        out.put("round", Value::Array(rounds.collect()));
    }
    out.count("take", entry.take.map(u64::from));
    out.text("tank", entry.tank.as_deref());
    out.moment("at", entry.at);
    out.text("boot", entry.boot.as_ref().map(|boot| boot.boot.as_str()));
    out.number("boot_clock", entry.boot.as_ref().map(|boot| boot.seconds));
    out.text("observes", entry.observes.as_deref());
    out.text("phase", entry.phase.map(Phase::word));
    out.text("provenance", entry.provenance.map(Provenance::word));
    out.texts("warned", &entry.warned);
    out.text("asked", entry.asked.as_deref());
    out.text("given", entry.given.as_deref());
    out.number("value", entry.value);
    out.text("unit", entry.unit.as_deref());
    out.number("uncertainty", entry.uncertainty);
    out.text("gauge", entry.gauge.as_deref());
    out.text("verdict", entry.verdict.map(Verdict::word));
    out.truth(entry.truth);
    out.text("settle", entry.advice.as_deref());
    out.text("reason", entry.reason.as_deref());
    out.count("replaces", entry.replaces);
    out.text("said", entry.said.as_deref());
    out.text("grade", entry.grade.map(Grade::word));
    out.text("next", entry.next.as_deref());
    out.text("for_now", entry.for_now.map(ForNow::word));
    if let Some(due) = entry.due {
        out.moment("due", due);
    }
    out.texts("rests_on", &entry.rests_on);
    for (name, value) in &entry.more {
        out.put(name, value.clone());
    }
    out.refused.map_or(Ok(out.written), Err)
}

/// The result, up to the line of its seal.
pub(super) fn summary(summary: &Summary) -> String {
    let mut out = KeyLines::new("\n[result]\n");
    out.text("outcome", Some(summary.outcome.word()));
    out.moment("at", summary.at);
    out.text("words", Some(&summary.words));
    out.text("grade", summary.grade.map(Grade::word));
    out.texts("found", &summary.found);
    out.written
}

/// Lines of `key = value`.
struct KeyLines {
    written: String,
    /// The first number that is none.
    refused: Option<NotANumber>,
}

impl KeyLines {
    fn new(first: &str) -> KeyLines {
        KeyLines { written: first.to_string(), refused: None }
    }

    fn put(&mut self, name: &str, item: Value) {
        if !is_finite(&item) {
            self.refused.get_or_insert(NotANumber { key: name.to_string() });
        }
        key(&mut self.written, name);
        self.written.push_str(" = ");
        value(&mut self.written, &item);
        self.written.push('\n');
    }

    fn text(&mut self, name: &str, text: Option<&str>) {
        if let Some(text) = text {
            self.put(name, Value::String(text.to_string()));
        }
    }

    /// A list; nothing when it is empty.
    fn texts(&mut self, name: &str, texts: &[String]) {
        if !texts.is_empty() {
            let texts = texts.iter().map(|text| Value::String(text.clone()));
            self.put(name, Value::Array(texts.collect()));
        }
    }

    /// A count; one too great for TOML is written as a text, which no reader takes for a count.
    fn count(&mut self, name: &str, count: Option<u64>) {
        if let Some(count) = count {
            self.put(name, i64::try_from(count).map_or(Value::String(count.to_string()), Value::Integer));
        }
    }

    fn moment(&mut self, name: &str, moment: Moment) {
        self.written.push_str(&format!("{name} = {moment}\n"));
    }

    fn number(&mut self, name: &str, number: Option<f64>) {
        if let Some(number) = number {
            self.put(name, Value::Float(number));
        }
    }

    fn truth(&mut self, truth: Option<Truth>) {
        let Some(truth) = truth else { return };
        let mut table = toml::Table::new();
        table.insert("best".to_string(), Value::Boolean(truth.best));
        table.insert("least".to_string(), Value::Float(truth.least));
        table.insert("most".to_string(), Value::Float(truth.most));
        self.put("truth", Value::Table(table));
    }
}
