//! A record read: head, entries, result, and what a broken-off write left.

use super::fault::Trouble;
use super::parse::{BlockContents, header, part};
use super::render::{FORMAT, GREETING};
use super::scan::{BlockState, RawBlock, Rest, Scan, scan};
use super::seal::seal_on;
use super::unclear::Unclear;
use super::{Edit, Entry, ForeignEntry, Header, Section, Summary, TornTail};

/// What some editors put before a text.
pub(super) const BYTE_ORDER_MARK: &[u8] = b"\xEF\xBB\xBF";

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

    /// The number that the next entry has: those that a mended record lacks are passed over.
    fn next_number(&self) -> u64 {
        let lost = self.header.mended.as_ref().map_or(&[][..], |mended| &mended.lost);
        (self.last_number() + 1..).find(|n| !lost.contains(n)).unwrap_or(u64::MAX)
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
    if let Some(edit) = edits(&scan, bytes).first() {
        return Err(Trouble::Edited(*edit));
    }
    let contents = sealed_part(bytes, &scan)?;
    Ok((contents, scan))
}

fn sealed_part(bytes: &[u8], scan: &Scan<'_>) -> Result<Contents, Trouble> {
    let [head, parts @ ..] = scan.blocks.as_slice() else { return Err(Trouble::HeadTorn) };
    let mut contents = Contents {
        header: header(text(head)?).map_err(|why| unclear(head, &why))?,
        entries: Vec::new(),
        foreign: Vec::new(),
        summary: None,
        torn: matches!(scan.rest, Rest::Torn | Rest::Added)
            .then(|| TornTail::new(&bytes[scan.sealed()..], scan)),
    };
    for block in parts {
        if contents.summary.is_some() {
            return Err(unclear(block, &Unclear::AfterResult));
        }
        let next = contents.next_number();
        match part(text(block)?).map_err(|why| unclear(block, &why))? {
            BlockContents::Entry(entry) if entry.n == next => contents.entries.push(*entry),
            BlockContents::Foreign(entry) if entry.n == next => contents.foreign.push(entry),
            BlockContents::Result(summary) => contents.summary = Some(summary),
            _ => return Err(unclear(block, &Unclear::OutOfOrder { next })),
        }
    }
    Ok(contents)
}

/// Tells a record from other files by its beginning, and a damaged one by what else records have.
pub(super) fn check_beginning(bytes: &[u8]) -> Result<(), Trouble> {
    match beginning(bytes) {
        Err(Trouble::NotARecord) if bytes.starts_with(BYTE_ORDER_MARK) && has_marks(bytes) => {
            Err(Trouble::ByteOrderMark)
        }
        Ok(()) | Err(Trouble::NotARecord) if first_line(bytes).ends_with(b"\r\n") && has_marks(bytes) => {
            Err(Trouble::LineEnds)
        }
        Err(Trouble::NotARecord) if is_torn_comment(bytes) => Err(Trouble::HeadTorn),
        Err(Trouble::NotARecord) if has_marks(bytes) => Err(Trouble::StartDamaged),
        other => other,
    }
}

/// Whether bytes end within the lines of explanation, or the two keys after them, that records begin with.
fn is_torn_comment(bytes: &[u8]) -> bool {
    let plain = bytes
        .strip_prefix(GREETING.as_bytes())
        .is_some_and(|rest| rest.split(|byte| *byte == b'\n').count() <= 2);
    has_greeting(bytes) && (GREETING.as_bytes().starts_with(bytes) || plain)
}

fn has_greeting(bytes: &[u8]) -> bool {
    bytes.starts_with(&GREETING.as_bytes()[..30])
}

/// Whether bytes have what only records have: a seal, an entry, the words they begin with.
pub(super) fn has_marks(bytes: &[u8]) -> bool {
    let line = |line: &[u8]| {
        let line = line.strip_suffix(b"\r\n").or(line.strip_suffix(b"\n")).unwrap_or(line);
        line == b"[[entry]]" || seal_on(&[line, b"\n"].concat()).is_some()
    };
    let plain = bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes);
    has_greeting(plain) || bytes.split_inclusive(|byte| *byte == b'\n').any(line)
}

fn first_line(bytes: &[u8]) -> &[u8] {
    bytes.split_inclusive(|byte| *byte == b'\n').next().unwrap_or_default()
}

fn beginning(bytes: &[u8]) -> Result<(), Trouble> {
    if bytes.is_empty() {
        return Err(Trouble::Empty);
    }
    let mut lines = bytes
        .split(|byte| *byte == b'\n')
        .filter(|line| !line.is_empty() && line[0] != b'#' && **line != *b"\r");
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

/// Where the seals do not hold.
pub(super) fn edits(scan: &Scan<'_>, bytes: &[u8]) -> Vec<Edit> {
    let place = |(at, block): (usize, &RawBlock<'_>)| Edit {
        section: section(at, block.body),
        missing_from: missing_before(&scan.blocks, at),
        first_line: if block.is_whole() { block.seal_line() } else { block.first_line() },
        seal_line: block.seal_line(),
    };
    let mut edits: Vec<Edit> = scan.broken().map(place).collect();
    if let Rest::Edited { seal_line } = scan.rest {
        let body = &bytes[scan.sealed()..];
        let last = RawBlock { body, line: scan.line, state: BlockState::Changed };
        let section = section(scan.blocks.len(), body);
        edits.push(Edit { section, first_line: last.first_line(), seal_line, missing_from: None });
    }
    edits
}

/// The first number that is missing before a changed block, where the numbers jump there: blocks may have been
/// taken out. A mended record says itself what it lacks.
fn missing_before(blocks: &[RawBlock<'_>], at: usize) -> Option<u64> {
    let (head, before, block) = (blocks.first()?, blocks.get(at.checked_sub(1)?)?, blocks.get(at)?);
    let Section::Entry(n) = section(at, block.body) else { return None };
    let next = match section(at - 1, before.body) {
        Section::Entry(before) => before.checked_add(1)?,
        Section::Head | Section::Result => 1,
    };
    let head = || header(text(head).ok()?).ok();
    let jumps = !block.is_whole() && next < n && n - next <= MOST_MISSING;
    (jumps && head().is_none_or(|head| head.mended.is_none())).then_some(next)
}

/// How many entries may have been taken out; of a greater jump the number itself was changed.
const MOST_MISSING: u64 = 1_000;

/// Which part of the record a block is: an entry by the number it tells, else by its place.
fn section(at: usize, body: &[u8]) -> Section {
    let number = || {
        let line = body.split(|byte| *byte == b'\n').find_map(|line| line.strip_prefix(b"n = "))?;
        std::str::from_utf8(line).ok()?.parse().ok()
    };
    match at {
        0 => Section::Head,
        _ if body.starts_with(b"\n[result]") => Section::Result,
        at => Section::Entry(number().unwrap_or(at as u64)),
    }
}

pub(super) fn text<'a>(block: &RawBlock<'a>) -> Result<&'a str, Trouble> {
    std::str::from_utf8(block.body).map_err(|error| {
        let before = &block.body[..error.valid_up_to()];
        let line = block.line + before.iter().filter(|byte| **byte == b'\n').count();
        Trouble::Unclear { line, message: "the bytes are not UTF-8 text".to_string() }
    })
}

fn unclear(block: &RawBlock<'_>, why: &Unclear) -> Trouble {
    Trouble::Unclear { line: block.first_line(), message: why.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_record_is_known_by_any_of_its_marks() {
        let seal = format!("a = 1\n{}\"{}\"", crate::record::literal::RESERVED, "0a".repeat(32));
        let table = [
            ("a = 1\n[[entry]]\nb = 2\n", true),
            ("a = 1\r\n[[entry]]\r\n", true),
            ("a = 1\n[[entry]]", true),
            ("a = 1\n [[entry]]\n", false),
            ("a = 1\n", false),
            ("", false),
        ];
        for (text, expected) in table {
            assert_eq!(has_marks(text.as_bytes()), expected, "{text:?}");
        }
        assert!(has_marks(seal.as_bytes()) && has_marks(format!("{seal}\r\n").as_bytes()));
    }
}
