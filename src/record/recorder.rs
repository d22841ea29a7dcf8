//! Writes a record: every entry is on the disk before the next question is put.

use std::path::{Path, PathBuf};

use super::contents::{Contents, read};
use super::fault::{RecordFault, Trouble};
use super::parse::{self, BlockContents};
use super::render;
use super::seal::Chain;
use super::storage::{LARGEST_RECORD_BYTES, Storage};
use super::{Entry, Header, Summary, TornTail};

/// Adds entries to one record.
#[derive(Debug)]
pub struct Recorder<S: Storage> {
    pub(super) storage: S,
    path: PathBuf,
    chain: Chain,
    /// All that was written, so that it can be saved elsewhere.
    text: Vec<u8>,
    last: u64,
    state: RecorderState,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum RecorderState {
    Open,
    Finished,
    Broken,
}

/// A record opened again: its recorder, what it holds, and what was cut from its end.
pub(super) type Reopened<S> = (Recorder<S>, Contents, Option<TornTail>);

impl<S: Storage> Recorder<S> {
    /// Begins a record on empty storage: writes its head and syncs. `path` is for messages.
    ///
    /// # Errors
    /// The head cannot be written, or not so that it could be read again.
    pub fn begin(storage: S, path: &Path, header: &Header) -> Result<Recorder<S>, RecordFault> {
        let mut recorder = Recorder {
            storage,
            path: path.to_path_buf(),
            chain: Chain::default(),
            text: Vec::new(),
            last: 0,
            state: RecorderState::Open,
        };
        let mut block = render::header(header);
        let mut chain = Chain::default();
        if parse::header(&block).as_ref() != Ok(header) {
            return Err(recorder.unwritable(0, "its head would not read back as it was"));
        }
        chain.close(&mut block);
        recorder.write(&block, chain)?;
        Ok(recorder)
    }

    /// Goes on with a record whose bytes were read from `storage`; a torn tail is cut off and told.
    ///
    /// # Errors
    /// Everything [`Contents::from_bytes`] refuses; a finished run; entries of a later version;
    /// a tail that is no broken-off write, or cannot be cut.
    pub fn resume(mut storage: S, path: &Path, bytes: &[u8]) -> Result<Reopened<S>, RecordFault> {
        let (mut contents, scan) = read(bytes).map_err(|trouble| trouble.at(path))?;
        if let Some(summary) = &contents.summary {
            return Err(Trouble::Finished(summary.outcome).at(path));
        }
        if let Some(foreign) = contents.foreign.first() {
            return Err(Trouble::Foreign { n: foreign.n, kind: foreign.kind.clone() }.at(path));
        }
        if contents.header.mended.as_ref().is_some_and(|mended| mended.head || !mended.lost.is_empty()) {
            return Err(Trouble::Incomplete.at(path));
        }
        let torn = contents.torn.take();
        if let Some(tail) = torn.as_ref().filter(|tail| tail.added) {
            return Err(Trouble::Added { line: tail.line, bytes: tail.length }.at(path));
        }
        if let Some(tail) = &torn {
            storage.cut(tail.offset).map_err(|error| Trouble::io("cut", &error).at(path))?;
        }
        let last = contents.last_number();
        let whole = usize::try_from(scan.chain.length()).unwrap_or(bytes.len());
        let recorder = Recorder {
            storage,
            path: path.to_path_buf(),
            chain: scan.chain,
            text: bytes[..whole.min(bytes.len())].to_vec(),
            last,
            state: RecorderState::Open,
        };
        Ok((recorder, contents, torn))
    }

    /// Adds entries with one write and one sync; on return they are safe. Their numbers go on
    /// from [`Recorder::next_number`]. No entries, no write.
    ///
    /// # Errors
    /// [`Trouble::Unwritable`]: nothing was written, and the recorder is good for more.
    /// [`Trouble::Lost`]: a write or sync failed; nothing more can be added through this
    /// recorder. [`Trouble::Displaced`]: the file is not the one that was written to. In both cases the
    /// whole record, these entries too, is saved elsewhere if that can be. [`Trouble::Closed`]: such a failure, or [`Recorder::finish`], came before.
    pub fn append(&mut self, entries: &[Entry]) -> Result<(), RecordFault> {
        self.check_open()?;
        let (mut chain, mut blocks) = (self.chain.clone(), String::new());
        for (entry, n) in entries.iter().zip(self.next_number()..) {
            let mut block = self.block(entry, n)?;
            chain.close(&mut block);
            blocks.push_str(&block);
        }
        if entries.is_empty() {
            return Ok(());
        }
        self.write(&blocks, chain)?;
        self.last += entries.len() as u64;
        Ok(())
    }

    /// Writes the result; afterwards nothing can be added.
    ///
    /// # Errors
    /// As [`Recorder::append`].
    pub fn finish(&mut self, summary: &Summary) -> Result<(), RecordFault> {
        self.check_open()?;
        let mut block = render::summary(summary);
        if parse::part(&block) != Ok(BlockContents::Result(summary.clone())) {
            return Err(self.unwritable(0, "the result would not read back as it was"));
        }
        let mut chain = self.chain.clone();
        chain.close(&mut block);
        self.write(&block, chain)?;
        self.state = RecorderState::Finished;
        Ok(())
    }

    /// The number the next entry must have.
    pub fn next_number(&self) -> u64 {
        self.last + 1
    }

    /// Where the record is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    fn check_open(&self) -> Result<(), RecordFault> {
        match self.state {
            RecorderState::Open => Ok(()),
            RecorderState::Finished | RecorderState::Broken => {
                Err(Trouble::Closed { kept: self.last }.at(&self.path))
            }
        }
    }

    /// The text of an entry, once it is sure that it reads back as it was.
    fn block(&self, entry: &Entry, n: u64) -> Result<String, RecordFault> {
        if entry.n != n {
            return Err(self.unwritable(entry.n, &format!("the next entry has number {n}")));
        }
        let block = render::entry(entry).map_err(|error| self.unwritable(n, &error.to_string()))?;
        let reads_back = parse::part(&block) == Ok(BlockContents::Entry(Box::new(entry.clone())));
        if !reads_back || entry.more.contains_key("seal") {
            return Err(self.unwritable(n, "it would not read back as it was"));
        }
        Ok(block)
    }

    fn unwritable(&self, n: u64, message: &str) -> RecordFault {
        Trouble::Unwritable { n, message: message.to_string() }.at(&self.path)
    }

    /// The one place where bytes are written.
    fn write(&mut self, blocks: &str, chain: Chain) -> Result<(), RecordFault> {
        if chain.length() > LARGEST_RECORD_BYTES {
            return Err(self.unwritable(0, "the record would be larger than any reader takes"));
        }
        self.state = RecorderState::Broken;
        // The head is written before the file has its name.
        let begun = self.chain.length() > 0;
        let displaced = begun.then(|| self.storage.displaced(&self.path, &self.text)).flatten();
        self.text.extend_from_slice(blocks.as_bytes());
        if let Some(how) = displaced {
            return Err(Trouble::Displaced { how, saved: self.saved() }.at(&self.path));
        }
        let stored = self.storage.append(blocks.as_bytes()).map_err(|error| ("write", error));
        let stored = stored.and_then(|()| self.storage.sync().map_err(|error| ("sync", error)));
        if let Err((doing, error)) = stored {
            return Err(match begun {
                true => {
                    Trouble::Lost { kept: self.last, doing, error: error.to_string(), saved: self.saved() }
                }
                false => Trouble::refused("make", &error),
            }
            .at(&self.path));
        }
        (self.chain, self.state) = (chain, RecorderState::Open);
        Ok(())
    }

    /// Where the whole record was saved, if anywhere.
    fn saved(&self) -> Option<PathBuf> {
        self.storage.save(&self.path, &self.text).ok()
    }
}
