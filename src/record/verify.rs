//! Checks a record as a stranger would: seals, the digests of kept texts, the numbering.

use std::fmt;
use std::path::Path;

use super::contents::{edits, read};
use super::fault::Edit;
use super::fault::{RecordFault, Trouble};
use super::open::file_bytes;
use super::scan::scan;
use super::trouble_words::CUT_OFF;
use super::{Outcome, TornTail};
use crate::words::harmless;

/// What a check of a record found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verification {
    /// Every seal holds, to the last byte.
    Sound {
        /// How many entries there are.
        entries: u64,
        /// How the run ended; `None` when it has not.
        outcome: Option<Outcome>,
    },
    /// Bytes without a seal follow the last seal that holds.
    Torn(TornTail),
    /// A seal does not hold.
    Edited(Edit),
    /// It cannot be read at all.
    Unreadable(Trouble),
}

impl Verification {
    /// Whether nothing is wrong.
    pub fn is_sound(&self) -> bool {
        matches!(self, Verification::Sound { .. })
    }

    /// What to do about it in that file; nothing when nothing is wrong.
    pub fn remedy(&self, file: &Path) -> Option<String> {
        match self {
            Verification::Sound { .. } => None,
            Verification::Torn(tail) if tail.added => {
                Some(Trouble::Added { line: tail.line, bytes: tail.length }.remedy_for(file))
            }
            Verification::Torn(_) => Some(CUT_OFF.to_string()),
            Verification::Edited(edit) => Some(Trouble::Edited(*edit).remedy_for(file)),
            Verification::Unreadable(trouble) => Some(trouble.remedy_for(file)),
        }
    }

    /// The line where what it tells of begins.
    pub fn line(&self) -> Option<usize> {
        match self {
            Verification::Sound { .. } => None,
            Verification::Torn(tail) => Some(tail.line),
            Verification::Edited(edit) => Some(edit.first_line),
            Verification::Unreadable(trouble) => trouble.line(),
        }
    }
}

impl fmt::Display for Verification {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let trouble = match self {
            Verification::Sound { entries, outcome } => {
                let open = "not ended (whether whole entries were cut off its end, no seal can show)";
                let end = outcome.map_or(open, Outcome::word);
                return write!(f, "every seal holds: {}, {end}", super::trouble_words::entries(*entries));
            }
            Verification::Torn(tail) => return f.write_str(&harmless(&tail.message())),
            Verification::Edited(edit) => Trouble::Edited(*edit),
            Verification::Unreadable(trouble) => trouble.clone(),
        };
        write!(f, "{}; {}", harmless(&trouble.what()), harmless(&trouble.why()))
    }
}

/// Checks the record at `path`.
///
/// # Errors
/// The file cannot be read from the disk.
pub fn verify(path: &Path) -> Result<Vec<Verification>, RecordFault> {
    let named = |finding| match finding {
        Verification::Unreadable(trouble) => Verification::Unreadable(trouble.of_file(path)),
        other => other,
    };
    Ok(verify_bytes(&file_bytes(path)?).into_iter().map(named).collect())
}

/// The last seal that stands in a record, whether it holds or not.
pub fn last_seal(bytes: &[u8]) -> Option<String> {
    let last = bytes.split_inclusive(|byte| *byte == b'\n').rev().find_map(super::seal::seal_on);
    last.map(|seal| harmless(&String::from_utf8_lossy(seal)))
}

/// Checks the bytes of a record. One [`Verification::Sound`] when nothing is wrong, else what is, in
/// the order of the file.
pub fn verify_bytes(bytes: &[u8]) -> Vec<Verification> {
    let contents = match read(bytes) {
        Ok((contents, _)) => contents,
        Err(Trouble::Edited(_)) => {
            return edits(&scan(bytes), bytes).into_iter().map(Verification::Edited).collect();
        }
        Err(trouble) => return vec![Verification::Unreadable(trouble)],
    };
    vec![match contents.torn {
        Some(tail) => Verification::Torn(tail),
        None => Verification::Sound {
            entries: (contents.entries.len() + contents.foreign.len()) as u64,
            outcome: contents.summary.map(|summary| summary.outcome),
        },
    }]
}
