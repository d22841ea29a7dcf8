//! What is whole in a damaged record.

use super::contents::{BYTE_ORDER_MARK, check_beginning, text};
use super::fault::Trouble;
use super::parse::{self, BlockContents};
use super::scan::{RawBlock, Rest, scan};
use super::seal::Chain;
use super::{Contents, Header, Mended, TornTail, render};

/// The whole parts of a record, and which are not.
#[derive(Debug)]
pub(crate) struct Salvage<'a> {
    /// What they hold; the head tells what is missing.
    pub contents: Contents,
    /// The whole blocks after the head, as they stand there.
    blocks: Vec<&'a str>,
}

/// The bytes as a record has them: without a byte order mark, and with its own line ends.
pub(crate) fn with_own_line_ends(bytes: &[u8]) -> Vec<u8> {
    let bytes = bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes);
    // A record writes a carriage return as an escape, so one that stands in it came with a line end.
    let stays = |at: &usize| !bytes[*at..].starts_with(b"\r\n");
    (0..bytes.len()).filter(stays).map(|at| bytes[at]).collect()
}

/// Finds what is whole in the bytes of a record. `name` stands in where its own name is lost.
///
/// # Errors
/// [`Trouble::NothingWhole`] when that is nothing; [`Trouble::Newer`].
pub(crate) fn salvage<'a>(bytes: &'a [u8], name: &str) -> Result<Salvage<'a>, Trouble> {
    if let Err(newer @ Trouble::Newer { .. }) = check_beginning(bytes) {
        return Err(newer);
    }
    let scan = scan(bytes);
    let [head, parts @ ..] = scan.blocks.as_slice() else { return Err(Trouble::NothingWhole) };
    let whole_head =
        Some(head).filter(|head| head.is_whole()).and_then(|head| parse::header(text(head).ok()?).ok());
    let mut found = WholeBlocks::default();
    parts.iter().for_each(|block| found.take(block));
    found.pass_over(found.last + found.broken + 1);
    let head_lost = whole_head.is_none();
    let mut header = match whole_head {
        Some(header) => header,
        None => header_of(head.body, name, &found).ok_or(Trouble::NothingWhole)?,
    };
    header.mended = Some(Mended { from: header.id.clone(), lost: found.lost, head: head_lost });
    let WholeBlocks { entries, foreign, summary, blocks, .. } = found;
    let torn = (scan.rest == Rest::Torn).then(|| TornTail::new(&bytes[scan.sealed()..], &scan));
    Ok(Salvage { contents: Contents { header, entries, foreign, summary, torn }, blocks })
}

impl Salvage<'_> {
    /// The record of that name that holds what is whole, sealed anew.
    pub(crate) fn record(&self, id: &str) -> Vec<u8> {
        let header = Header { id: id.to_string(), ..self.contents.header.clone() };
        let (mut chain, mut record) = (Chain::default(), String::new());
        for block in std::iter::once(render::header(&header).as_str()).chain(self.blocks.iter().copied()) {
            let mut block = block.to_string();
            chain.close(&mut block);
            record.push_str(&block);
        }
        record.into_bytes()
    }
}

/// What was found after the head.
#[derive(Debug, Default)]
struct WholeBlocks<'a> {
    entries: Vec<super::Entry>,
    foreign: Vec<super::ForeignEntry>,
    summary: Option<super::Summary>,
    blocks: Vec<&'a str>,
    last: u64,
    lost: Vec<u64>,
    /// How many blocks in a row were not whole.
    broken: u64,
}

impl<'a> WholeBlocks<'a> {
    fn take(&mut self, block: &RawBlock<'a>) {
        let whole = Some(block).filter(|block| block.is_whole() && self.summary.is_none());
        let read = whole.and_then(|block| Some((text(block).ok()?, parse::part(text(block).ok()?).ok()?)));
        let fits = |n: u64| n > self.last && n - self.last <= MOST_LOST;
        match read {
            Some((text, BlockContents::Entry(entry))) if fits(entry.n) => {
                self.put(entry.n, text);
                self.entries.push(*entry);
            }
            Some((text, BlockContents::Foreign(entry))) if fits(entry.n) => {
                self.put(entry.n, text);
                self.foreign.push(entry);
            }
            Some((text, BlockContents::Result(summary))) => {
                self.pass_over(self.last + self.broken + 1);
                self.blocks.push(text);
                self.summary = Some(summary);
            }
            _ => self.broken += u64::from(!block.body.starts_with(b"\n[result]\n")),
        }
    }

    fn put(&mut self, n: u64, text: &'a str) {
        self.pass_over(n);
        self.blocks.push(text);
        self.last = n;
    }

    /// Notes the numbers up to this one as lost.
    fn pass_over(&mut self, n: u64) {
        self.lost.extend(self.last + 1..n);
        (self.last, self.broken) = (n - 1, 0);
    }
}

/// How many entries in a row may be lost; a greater gap is no gap but nonsense.
const MOST_LOST: u64 = 100_000;

/// A head of all that can be read of a damaged one, line by line and text by text.
fn header_of(head: &[u8], name: &str, found: &WholeBlocks<'_>) -> Option<Header> {
    let head = String::from_utf8_lossy(head);
    let (lines, texts) = head.split_once(TEXT).unwrap_or((&head, ""));
    let started = lines.lines().find(|line| parse_moment(line).is_some()).map(str::to_string);
    let started = started.or_else(|| Some(format!("started = {}", found.entries.first()?.at)))?;
    let mut kept = format!(
        "format = 1\nid = '{name}'\nprogram = 'not known'\nprocedure = 'not known'\ntitle = 'not known'\nunits = 'us'\n{started}\n"
    );
    for line in lines.lines() {
        let key = line.split(" = ").next().unwrap_or_default();
        let others = kept.lines().filter(|other| !other.starts_with(&format!("{key} = ")));
        let with: String = others.chain([line]).map(|line| format!("{line}\n")).collect();
        if parse::header(&with).is_ok() {
            kept = with;
        }
    }
    for text in texts.split(TEXT) {
        let text = text.split("\n[sealed]\n").next().unwrap_or_default();
        let with = format!("{kept}{TEXT}{text}\n");
        if parse::header(&with).is_ok() {
            kept = with;
        }
    }
    parse::header(&kept).ok()
}

/// What stands before each kept text.
const TEXT: &str = "\n[[text]]\n";

fn parse_moment(line: &str) -> Option<crate::clock::Moment> {
    crate::clock::Moment::parse(line.strip_prefix("started = ")?)
}
