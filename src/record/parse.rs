//! Blocks of a record read back: TOML tables into header, entries and result.
//!
//! Fields this version does not know are kept, or in the header passed over; a field it knows
//! must be what it should be.

use super::fields::EntryFields;
use super::names::is_run_name;
use super::render::FORMAT;
use super::seal::sha256;
use super::unclear::Unclear;
use super::{
    Entry, EntryKind, ForNow, ForeignEntry, Grade, Header, KeptText, Mended, Outcome, Phase, Practiced,
    Provenance, Summary, TextRole,
};
use crate::clock::BootTime;
use crate::quantity::Units;

/// What stands between one seal and the next.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum BlockContents {
    /// An entry.
    Entry(Box<Entry>),
    /// An entry of a kind this version does not know.
    Foreign(ForeignEntry),
    /// The result.
    Result(Summary),
}

/// Reads the head of a record.
pub(super) fn header(block: &str) -> Result<Header, Unclear> {
    let mut fields = EntryFields::of(block)?;
    if fields.whole("format")? != Some(FORMAT) {
        return Err(Unclear::Format);
    }
    let units = fields.needed("units", EntryFields::text)?;
    let id = fields.needed("id", EntryFields::text)?;
    if !is_run_name(&id) {
        return Err(Unclear::Id(id));
    }
    let header = Header {
        id,
        program: fields.needed("program", EntryFields::text)?,
        procedure: fields.needed("procedure", EntryFields::text)?,
        title: fields.needed("title", EntryFields::text)?,
        started: fields.needed("started", EntryFields::moment)?,
        units: Units::named(&units).ok_or(Unclear::Units(units))?,
        site: fields.text("site")?,
        tank: fields.text("tank")?,
        tanks: fields.words("tanks")?,
        demo: fields.yes("demo")?.unwrap_or(false),
        practice: practiced(&mut fields)?,
        transcribed: fields.moment("transcribed")?,
        without: fields.words("without")?,
        mended: mended(&mut fields)?,
        texts: fields.tables("text")?.into_iter().map(kept).collect::<Result<_, _>>()?,
    };
    Ok(header)
}

/// Which installation a practice was at.
fn practiced(fields: &mut EntryFields<'_>) -> Result<Option<Practiced>, Unclear> {
    let seed = fields.count("seed")?.unwrap_or_default();
    Ok(fields.text("practice")?.map(|fault| Practiced { fault, seed }))
}

/// What a mended record lacks.
fn mended(fields: &mut EntryFields<'_>) -> Result<Option<Mended>, Unclear> {
    let (lost, head) = (fields.counts("lost")?, fields.yes("head_lost")?.unwrap_or(false));
    Ok(fields.text("mended")?.map(|from| Mended { from, lost, head }))
}

fn kept(mut fields: EntryFields<'_>) -> Result<KeptText, Unclear> {
    let role = fields.needed("role", EntryFields::text)?;
    let name = fields.needed("name", EntryFields::text)?;
    let text = fields.needed("text", EntryFields::text)?;
    if fields.needed("sha256", EntryFields::text)? != sha256(&text) {
        return Err(Unclear::Digest(name));
    }
    let role = TextRole::named(&role).ok_or(Unclear::Role(role))?;
    Ok(KeptText { role, name, text: text.into() })
}

/// Reads a block after the head.
pub(super) fn part(block: &str) -> Result<BlockContents, Unclear> {
    let mut fields = EntryFields::of(block)?;
    let mut entries = fields.tables("entry")?;
    let result = fields.table("result")?;
    match (entries.pop(), entries.is_empty(), result) {
        (Some(fields), true, None) => entry(fields),
        (None, true, Some(fields)) => summary(fields).map(BlockContents::Result),
        _ => Err(Unclear::NoBlock),
    }
}

fn entry(mut fields: EntryFields<'_>) -> Result<BlockContents, Unclear> {
    let n = fields.needed("n", EntryFields::count)?;
    let word = fields.needed("kind", EntryFields::text)?;
    let Some(kind) = EntryKind::named(&word) else {
        return Ok(BlockContents::Foreign(ForeignEntry { n, kind: word, fields: fields.rest()? }));
    };
    let entry = Entry {
        n,
        kind,
        step: fields.needed("step", EntryFields::text)?,
        round: fields.rounds("round")?,
        take: fields.small("take")?,
        tank: fields.text("tank")?,
        at: fields.needed("at", EntryFields::moment)?,
        boot: boot(&mut fields)?,
        observes: fields.text("observes")?,
        phase: fields.word("phase", Phase::named)?,
        provenance: fields.word("provenance", Provenance::named)?,
        warned: fields.words("warned")?,
        asked: fields.text("asked")?,
        given: fields.text("given")?,
        value: fields.number("value")?,
        unit: fields.text("unit")?,
        uncertainty: fields.number("uncertainty")?,
        gauge: fields.text("gauge")?,
        verdict: fields.verdict()?,
        truth: fields.truth()?,
        advice: fields.text("settle")?,
        reason: fields.text("reason")?,
        replaces: fields.count("replaces")?,
        said: fields.text("said")?,
        grade: fields.word("grade", Grade::named)?,
        next: fields.text("next")?,
        for_now: fields.word("for_now", ForNow::named)?,
        due: fields.moment("due")?,
        rests_on: fields.words("rests_on")?,
        more: fields.rest()?,
    };
    Ok(BlockContents::Entry(Box::new(entry)))
}

/// Both fields of the boot clock, or neither.
fn boot(fields: &mut EntryFields<'_>) -> Result<Option<BootTime>, Unclear> {
    let (boot, seconds) = (fields.text("boot")?, fields.number("boot_clock")?);
    match (boot, seconds) {
        (Some(boot), Some(seconds)) => Ok(Some(BootTime { boot, seconds })),
        (None, None) => Ok(None),
        (Some(_), None) => Err(Unclear::Missing("boot_clock".to_string())),
        (None, Some(_)) => Err(Unclear::Missing("boot".to_string())),
    }
}

fn summary(mut fields: EntryFields<'_>) -> Result<Summary, Unclear> {
    let outcome = fields.needed("outcome", EntryFields::text)?;
    Ok(Summary {
        outcome: Outcome::named(&outcome).ok_or(Unclear::Outcome(outcome))?,
        at: fields.needed("at", EntryFields::moment)?,
        words: fields.needed("words", EntryFields::text)?,
        grade: fields.word("grade", Grade::named)?,
        found: fields.words("found")?,
    })
}
