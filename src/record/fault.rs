//! What can go wrong with a record, in words: where, what, why, and what to do.

use std::fmt;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use thiserror::Error;

use super::Outcome;
use super::names::is_stamped;
use crate::words::{harmless, path_shown};

/// Something wrong with a record, or in the way of writing it.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub struct RecordFault {
    /// The file (or the folder) it is about.
    pub path: PathBuf,
    /// What is wrong.
    pub trouble: Trouble,
}

/// Which part of a record something is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Section {
    /// Everything before the first entry.
    Head,
    /// The entry of that number.
    Entry(u64),
    /// The result.
    Result,
}

/// Where a record was changed after it was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Edit {
    /// The first part of the record whose seal does not hold.
    pub section: Section,
    /// The line it begins on, from 1.
    pub first_line: usize,
    /// The line of the seal that does not hold.
    pub seal_line: usize,
    /// The first number that is missing before it, where the numbers jump.
    pub missing_from: Option<u64>,
}

impl Edit {
    /// Whether nothing but the line of a seal was changed.
    pub fn is_of_seal(&self) -> bool {
        self.first_line == self.seal_line
    }
}

/// What can be wrong.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum Trouble {
    /// There is no such file.
    Missing,
    /// Something else than a file stands there, such as `a folder`.
    NotAFile(&'static str),
    /// The machine refused; what was being done, and its answer.
    Io {
        /// What was being done: `read`, `write` …
        doing: &'static str,
        /// What kind of answer it is.
        kind: ErrorKind,
        /// What the machine said.
        error: String,
    },
    /// There is nothing in it.
    Empty,
    /// It holds more bytes than any record does.
    TooLarge {
        /// How many.
        bytes: u64,
    },
    /// It is no record.
    NotARecord,
    /// A record of a later format.
    Newer {
        /// Its format.
        format: i64,
    },
    /// Its head breaks off.
    HeadTorn,
    /// It is a record whose beginning was changed.
    StartDamaged,
    /// An editor put a byte order mark before it.
    ByteOrderMark,
    /// An editor changed its line ends.
    LineEnds,
    /// Its name does not end as records' names do.
    OddName,
    /// The record in it has another name than the file.
    Renamed {
        /// The record's name.
        id: String,
    },
    /// Another file holds the record of that name.
    Twice {
        /// The record's name.
        id: String,
        /// The file that counts.
        other: PathBuf,
    },
    /// Nothing in it is whole.
    NothingWhole,
    /// It has the name of a record, and nothing else of one.
    OnlyNamed,
    /// Nothing but its end is damaged: the last write broke off.
    OnlyTorn {
        /// The line on which that begins.
        line: usize,
        /// What was cut off.
        message: String,
    },
    /// What is whole of it was written to a new record before.
    MendedBefore {
        /// That record.
        before: PathBuf,
    },
    /// Nothing in it is damaged.
    NothingToMend,
    /// It is a mended record in which entries are missing, so the run cannot go on.
    Incomplete,
    /// It was changed after it was written.
    Edited(Edit),
    /// Something was added to its end that no write that broke off can have left.
    Added {
        /// The line it begins on.
        line: usize,
        /// How many bytes there are.
        bytes: u64,
    },
    /// The seals hold, but something in it cannot be understood.
    Unclear {
        /// The line the block begins on.
        line: usize,
        /// What is wrong there.
        message: String,
    },
    /// It has an entry of a kind this version does not know, so the run cannot go on here.
    Foreign {
        /// The entry's number.
        n: u64,
        /// Its kind.
        kind: String,
    },
    /// The run has ended.
    Finished(Outcome),
    /// A record of that name is already there.
    Exists,
    /// Someone else is writing it.
    Busy,
    /// A run's name that cannot be a file's name.
    BadName(String),
    /// Something that must not be written; nothing was.
    Unwritable {
        /// The entry's number; 0 for head and result.
        n: u64,
        /// Why not.
        message: String,
    },
    /// A write failed; the record may end in a torn entry.
    Lost {
        /// How many entries are safe.
        kept: u64,
        /// What was being done: `write` or `sync`.
        doing: &'static str,
        /// What the machine said.
        error: String,
        /// Where the whole record was saved instead, if anywhere.
        saved: Option<PathBuf>,
    },
    /// The file is no longer the one that was written to.
    Displaced {
        /// What became of it.
        how: &'static str,
        /// Where the whole record was saved instead, if anywhere.
        saved: Option<PathBuf>,
    },
    /// An earlier write failed, or the record is finished: nothing more is written.
    Closed {
        /// How many entries are safe.
        kept: u64,
    },
}

impl Trouble {
    /// Puts the file's name to it.
    pub fn at(self, path: &Path) -> RecordFault {
        RecordFault { path: path.to_path_buf(), trouble: self.of_file(path) }
    }

    /// The same of a file of that name: that it is named like a record tells that it was one.
    pub(super) fn of_file(self, path: &Path) -> Trouble {
        if self == Trouble::NotARecord && is_stamped(path) { Trouble::OnlyNamed } else { self }
    }

    /// Makes it from the machine's answer.
    pub fn io(doing: &'static str, error: &std::io::Error) -> Trouble {
        match error.kind() {
            std::io::ErrorKind::NotFound => Trouble::Missing,
            _ => Trouble::refused(doing, error),
        }
    }

    /// The same where nothing was looked for.
    pub(super) fn refused(doing: &'static str, error: &std::io::Error) -> Trouble {
        Trouble::Io { doing, kind: error.kind(), error: error.to_string() }
    }

    /// Whether it is about the name of a file, and not about what is in it.
    pub(crate) fn is_of_name(&self) -> bool {
        matches!(self, Trouble::OddName | Trouble::Renamed { .. } | Trouble::Twice { .. })
    }

    /// The line it is about, when it is about one.
    pub fn line(&self) -> Option<usize> {
        match self {
            Trouble::Edited(edit) => Some(edit.first_line),
            Trouble::Unclear { line, .. } | Trouble::Added { line, .. } | Trouble::OnlyTorn { line, .. } => {
                Some(*line)
            }
            _ => None,
        }
    }
}

impl fmt::Display for RecordFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&path_shown(&self.path))?;
        if let Some(line) = self.trouble.line() {
            write!(f, ":{line}")?;
        }
        writeln!(f, ": {}", harmless(&self.trouble.what()))?;
        writeln!(f, "  why: {}", harmless(&self.trouble.why()))?;
        write!(f, "  what to do: {}", self.trouble.remedy_for(&self.path))
    }
}
