//! A record read: head, entries, result, and what a broken-off write left.

use super::fault::Trouble;
use super::parse::{BlockContents, header, part};
use super::render::FORMAT;
use super::scan::{RawBlock, Rest, Scan, scan};
use super::unclear::Unclear;
use super::{Edit, Entry, ForeignEntry, Header, Section, Summary, TornTail};

/// All a record holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Contents {
    /// Its head.
    pub header: Header,
    /// Its entries, in order.
    pub entries: Vec<Entry>,
    /// Entries a later version wrote, of kinds unknown here.
    pub foreign: Vec<ForeignEntry>,
    /// Its result, when the run has ended.
    pub summary: Option<Summary>,
    /// What follows the last seal that holds: the beginning of an entry whose write broke off, or
    /// something added by other hands.
    pub torn: Option<TornTail>,
}

impl Contents {
    /// The number of the last entry; 0 when there is none.
    pub fn last_number(&self) -> u64 {
        let known = self.entries.last().map_or(0, |entry| entry.n);
        known.max(self.foreign.last().map_or(0, |entry| entry.n))
    }

    /// Reads the bytes of a record, checking every seal.
    ///
    /// # Errors
    /// [`Trouble::Empty`], [`Trouble::NotARecord`], [`Trouble::Newer`], [`Trouble::HeadTorn`],
    /// [`Trouble::Edited`] and [`Trouble::Unclear`]. A torn tail is no error.
    pub fn from_bytes(bytes: &[u8]) -> Result<Contents, Trouble> {
        read(bytes).map(|(contents, _)| contents)
    }
}

/// Reads the bytes of a record; gives the scan too, for going on.
pub(super) fn read(bytes: &[u8]) -> Result<(Contents, Scan<'_>), Trouble> {
    check_beginning(bytes)?;
    let scan = scan(bytes);
    if let Rest::Edited { seal_line } = scan.rest {
        return Err(Trouble::Edited(edit(&scan, bytes, seal_line)));
    }
    let contents = sealed_part(bytes, &scan)?;
    Ok((contents, scan))
}

/// Reads what stands before the first seal that does not hold; of a sound record all of it.
pub(crate) fn read_sealed_part(bytes: &[u8]) -> Result<Contents, Trouble> {
    check_beginning(bytes)?;
    sealed_part(bytes, &scan(bytes))
}

fn sealed_part(bytes: &[u8], scan: &Scan<'_>) -> Result<Contents, Trouble> {
    let [head, parts @ ..] = scan.blocks.as_slice() else { return Err(Trouble::HeadTorn) };
    let mut contents = Contents {
        header: header(text(head)?).map_err(|why| unclear(head, &why))?,
        entries: Vec::new(),
        foreign: Vec::new(),
        summary: None,
        torn: matches!(scan.rest, Rest::Torn | Rest::Added)
            .then(|| TornTail::new(&bytes[scan.sound()..], scan)),
    };
    for block in parts {
        if contents.summary.is_some() {
            return Err(unclear(block, &Unclear::AfterResult));
        }
        let next = contents.last_number() + 1;
        match part(text(block)?).map_err(|why| unclear(block, &why))? {
            BlockContents::Entry(entry) if entry.n == next => contents.entries.push(*entry),
            BlockContents::Foreign(entry) if entry.n == next => contents.foreign.push(entry),
            BlockContents::Result(summary) => contents.summary = Some(summary),
            _ => return Err(unclear(block, &Unclear::OutOfOrder { next })),
        }
    }
    Ok(contents)
}

/// Tells a record from other files by its beginning.
pub(super) fn check_beginning(bytes: &[u8]) -> Result<(), Trouble> {
    if bytes.is_empty() {
        return Err(Trouble::Empty);
    }
    let mut lines = bytes.split(|byte| *byte == b'\n').filter(|line| !line.is_empty() && line[0] != b'#');
    let format = lines.next().and_then(|line| {
        std::str::from_utf8(line)
            .ok()?
            .strip_prefix("format")?
            .trim_start()
            .strip_prefix('=')?
            .trim()
            .parse()
            .ok()
    });
    let is_record = lines.next().is_some_and(|line| line.starts_with(b"program"));
    match format {
        Some(FORMAT) if is_record => Ok(()),
        Some(format) if format > FORMAT && is_record => Err(Trouble::Newer { format }),
        _ => Err(Trouble::NotARecord),
    }
}

/// Says where the first seal stands that does not hold.
pub(super) fn edit(scan: &Scan<'_>, bytes: &[u8], seal_line: usize) -> Edit {
    let after = &bytes[scan.sound()..];
    let section = match scan.blocks.len() {
        0 => Section::Head,
        _ if after.starts_with(b"\n[result]") => Section::Result,
        n => Section::Entry(n as u64),
    };
    let first_line = RawBlock { body: after, line: scan.line }.first_line();
    Edit { section, first_line, seal_line }
}

fn text<'a>(block: &RawBlock<'a>) -> Result<&'a str, Trouble> {
    std::str::from_utf8(block.body).map_err(|error| {
        let before = &block.body[..error.valid_up_to()];
        let line = block.line + before.iter().filter(|byte| **byte == b'\n').count();
        Trouble::Unclear { line, message: "the bytes are not UTF-8 text".to_string() }
    })
}

fn unclear(block: &RawBlock<'_>, why: &Unclear) -> Trouble {
    Trouble::Unclear { line: block.first_line(), message: why.to_string() }
}
