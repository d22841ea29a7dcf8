//! A record at a glance: its head's first lines and its last block, for a list of thousands.

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

use super::contents::{check_beginning, has_marks};
use super::fault::{RecordFault, Trouble};
use super::names::is_stamped;
use super::open::read;
use super::parse::{self, BlockContents};
use super::seal::seal_on;
use super::storage::open_to_read;
use super::{Contents, Grade, Header, Outcome, Summary};
use crate::clock::Moment;

/// How many bytes are read at each end; when that does not suffice, all are.
const BYTES_AT_EACH_END: u64 = 8 * 1024;

/// What a list tells of a record. Its seals were not checked.
#[derive(Clone, Debug, PartialEq)]
pub struct Glance {
    /// The file.
    pub path: PathBuf,
    /// The run's name.
    pub id: String,
    /// The procedure's name.
    pub procedure: String,
    /// The procedure's title.
    pub title: String,
    /// When the run began.
    pub started: Moment,
    /// The installation's name.
    pub site: Option<String>,
    /// The tank worked on, or those that were taken one by one.
    pub tanks: Vec<String>,
    /// An invented installation.
    pub demo: bool,
    /// A practice at a simulated installation.
    pub practice: bool,
    /// It was typed in from a sheet filled in by hand.
    pub transcribed: bool,
    /// The damaged record of whose whole parts it was made.
    pub mended: Option<String>,
    /// How it ended; `None` when it has not.
    pub outcome: Option<Outcome>,
    /// How what was found weighs.
    pub grade: Option<Grade>,
    /// What weighs worst, by its names.
    pub found: Vec<String>,
    /// When it ended.
    pub ended: Option<Moment>,
    /// Something without a seal stands at its end.
    pub unsealed_end: bool,
}

/// Looks at the record at `path`, reading a few thousand bytes from each end.
///
/// # Errors
/// The file cannot be read, or is no record.
pub fn glance(path: &Path) -> Result<Glance, RecordFault> {
    let mut file = open_to_read(path)?;
    let (head, tail) = ends(&mut file).map_err(|error| Trouble::io("read", &error).at(path))?;
    check_beginning(&head).map_err(|trouble| match trouble {
        Trouble::NotARecord if has_marks(&tail) => Trouble::StartDamaged.at(path),
        // Of a record there may be something between the two ends.
        Trouble::NotARecord if is_stamped(path) => match read(path) {
            Err(fault) => fault,
            Ok(_) => trouble.at(path),
        },
        trouble => trouble.at(path),
    })?;
    match (top(&head), last(&tail)) {
        (Some(header), Some(end)) => Ok(Glance::new(path, header, end)),
        _ => {
            let Contents { header, summary, torn, .. } = read(path)?;
            Ok(Glance::new(path, header, RecordEnd { summary, unsealed: torn.is_some() }))
        }
    }
}

impl Glance {
    fn new(path: &Path, header: Header, RecordEnd { summary, unsealed }: RecordEnd) -> Glance {
        Glance {
            path: path.to_path_buf(),
            id: header.id,
            procedure: header.procedure,
            title: header.title,
            started: header.started,
            site: header.site,
            tanks: header.tank.into_iter().chain(header.tanks).collect(),
            demo: header.demo,
            practice: header.practice.is_some(),
            transcribed: header.transcribed.is_some(),
            mended: header.mended.map(|mended| mended.from),
            outcome: summary.as_ref().map(|summary| summary.outcome),
            grade: summary.as_ref().and_then(|summary| summary.grade),
            found: summary.as_ref().map(|summary| summary.found.clone()).unwrap_or_default(),
            ended: summary.map(|summary| summary.at),
            unsealed_end: unsealed,
        }
    }
}

/// The first and the last bytes of a file; a short one is read once.
fn ends(file: &mut File) -> io::Result<(Vec<u8>, Vec<u8>)> {
    let length = file.metadata()?.len();
    let head = some(file)?;
    if length <= head.len() as u64 {
        return Ok((head.clone(), head));
    }
    file.seek(SeekFrom::Start(length.saturating_sub(BYTES_AT_EACH_END)))?;
    Ok((head, some(file)?))
}

/// As many bytes as are read at an end, from here on.
fn some(file: &mut File) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::with_capacity(BYTES_AT_EACH_END as usize);
    file.take(BYTES_AT_EACH_END).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// The head's own lines, up to its first table; `None` when they do not end here.
fn top(head: &[u8]) -> Option<Header> {
    let end = head.windows(2).position(|pair| pair == b"\n[")?;
    parse::header(std::str::from_utf8(&head[..=end]).ok()?).ok()
}

/// What stands at the end of a record.
struct RecordEnd {
    /// The result, when the last block is one.
    summary: Option<Summary>,
    /// Something without a seal follows.
    unsealed: bool,
}

/// The end of a record; `None` when it cannot be told from these bytes.
fn last(tail: &[u8]) -> Option<RecordEnd> {
    let mut seals = Vec::new();
    let mut at = 0;
    for line in tail.split_inclusive(|byte| *byte == b'\n') {
        if seal_on(line).is_some() {
            seals.push((at, at + line.len()));
        }
        at += line.len();
    }
    let [.., (_, start), (end, after)] = seals.as_slice() else { return None };
    let (block, unsealed) = (&tail[*start..*end], *after < tail.len());
    if !block.starts_with(b"\n[result]\n") {
        return Some(RecordEnd { summary: None, unsealed });
    }
    match parse::part(std::str::from_utf8(block).ok()?) {
        Ok(BlockContents::Result(summary)) => Some(RecordEnd { summary: Some(summary), unsealed }),
        _ => None,
    }
}
