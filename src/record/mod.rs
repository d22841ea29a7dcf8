//! The record of a run: one append-only TOML file, sealed entry by entry.
//!
//! A record outlives the program that wrote it. It is plain UTF-8 text in TOML 1.0, it holds the
//! exact texts the run was made with, and everything in it can be read with a text editor and
//! checked with tools every machine has. This page says all that is needed for that.
//!
//! # Format 1
//!
//! ```toml
//! # A few lines of explanation, then the head.
//! format = 1                            # the first key; a later format has a greater number
//! program = "tankhand 0.1.0"            # the second key
//! id = "20310405-0901-flush"            # the run's name, and the file's
//! procedure = "flush"
//! title = "Flush the tank"
//! started = 2031-04-05T09:01:00-05:00   # as all times: to the second, with the offset from UTC
//! units = "us"                          # or "metric"
//! site = "Cottage"                      # when there is a system file
//! tank = "main"                         # when one was named
//! demo = true                           # an invented installation; else left out
//! tanks = ["left", "right"]             # instead of tank, where tanks are taken one by one
//! practice = "waterlogged"              # of a practice: what is wrong at the simulated installation; else left out
//! seed = 4                              # of a practice: the number of the installation
//! transcribed = 2031-04-06T20:00:00-05:00  # typed in from a sheet, when; else left out
//! mended = "20310405-0901-flush"        # made of the whole parts of a damaged record; else left out
//! lost = [3]                            # of a mended record: which entries were not whole
//! head_lost = false                     # of a mended record: whether the head was not whole
//!
//! [[text]]                              # for each file the run was made with
//! role = "procedure"                    # or "part" or "system"
//! name = "procedures/flush.toml"
//! sha256 = "…"                          # of the text's bytes
//! text = '''
//! …'''
//!
//! [sealed]
//! seal = "…"
//!
//! [[entry]]                             # for each thing that happened
//! n = 1                                 # 1, 2, 3 …
//! kind = "reading"                      # the words of `EntryKind::word`
//! step = "static"
//! round = [2]                           # in which round of each loop, outermost first
//! take = 1                              # which of several readings
//! tank = "left"                         # which tank, where tanks are taken one by one
//! at = 2031-04-05T09:03:12-05:00
//! asked = "What does the gauge read?"
//! given = "38"
//! value = 38.0
//! unit = "psi"
//! uncertainty = 1.2                     # standard uncertainty, in the same unit
//! gauge = "tyre gauge"
//! verdict = "pass"                      # or "fail" or "can't tell"
//! truth = {best = true, least = 0.97, most = 0.97}   # bounds of the probability
//! reason = "…"                          # why a step was skipped, or a remark
//! replaces = 4                          # the entry this one replaces or takes back
//! said = "…"                            # what the program told the person
//! seal = "…"
//!
//! [result]                              # when the run has ended
//! outcome = "completed"                 # or "failed" or "unfinished"
//! at = 2031-04-05T10:12:40-05:00
//! words = "…"
//! seal = "…"
//! ```
//!
//! A key of an entry that has nothing to tell is left out. An entry with fields not named here
//! is of a later version: the fields are kept ([`Entry::more`]). An entry of an unknown kind is
//! kept as it is ([`Contents::foreign`]); such a record can be read but not gone on with.
//!
//! # Seals
//!
//! A seal is the SHA-256 of the bytes between two lines: from the beginning of the line of the seal
//! before (for the head's, from the beginning of the file) to the beginning of its own. Only
//! seals stand on lines that begin with `seal = ` (where a kept text has such a line, its first
//! letter is written `\u0073`), so any of them can be checked by hand:
//!
//! ```sh
//! grep -ab '^seal = ' record.toml          # tells how many bytes come before each seal's line
//! # for a seal with 2345 bytes before it, where the one before has 2000:
//! tail -c +2001 record.toml | head -c 345 | sha256sum
//! ```
//!
//! A seal vouches for its own block and for the seal before it: damage stays in its block, and each
//! block that was changed is named. A seal shows a slip, a fault of the disk or a careless edit; it
//! is no signature. Who means to deceive can compute every later seal anew, or cut whole blocks off
//! the end. What a signature adds is told in the format's page.
//!
//! # Writing
//!
//! Entries are only ever added, each group with one write and one sync before the next question
//! is put, and a correction is an entry that names the one it replaces. When the machine fails
//! in the middle of a write, the file ends in the beginning of an entry without its seal: a torn
//! tail, which is cut off, and told, when the run goes on ([`Recorder::reopen`]). Bytes after
//! the last seal that holds are a torn tail when they begin as an entry does and no line among
//! them looks like a seal; otherwise someone has edited the file, and it is refused. One writer
//! at a time holds the file's lock.

mod account;
mod contents;
mod counting;
mod effective;
mod entry;
mod fault;
mod fields;
mod folder;
mod for_now;
mod format;
mod glance;
mod kept_text;
mod kind;
mod list;
mod literal;
mod mend;
mod mended;
mod names;
mod observed;
mod open;
mod outcome;
mod parse;
mod practiced;
mod recorder;
mod render;
mod rescue;
mod salvage;
mod scan;
mod seal;
mod storage;
mod torn;
mod trouble_words;
mod unclear;
mod verify;
mod words;

pub use account::FolderAccount;
pub(crate) use account::{FileLook, RecordFolder};
pub use contents::Contents;
pub(crate) use counting::diverging;
pub use effective::{are_effective, effective_entries, struck};
pub use entry::{Entry, ForeignEntry, Grade, Header, Phase, Provenance};
pub use fault::{Edit, RecordFault, Section, Trouble};
pub(crate) use folder::{FileOrder, RecordFiles};
pub use for_now::ForNow;
pub use format::{ENTRY_KEYS, FormatKey, HEAD_KEYS, RESULT_KEYS, TEXT_KEYS};
pub use glance::{Glance, glance};
pub use kept_text::{KeptText, TextRole};
pub use kind::EntryKind;
pub(crate) use kind::EntryRole;
pub use list::{RecordList, list};
pub use mend::mend;
pub use mended::Mended;
pub use names::name_for;
pub(crate) use names::typed_path;
pub use observed::{observed, recalled, si_of, temperature_at};
pub use open::read;
pub(crate) use open::{end_fault, file_bytes};
pub use outcome::{Outcome, Summary};
pub use practiced::Practiced;
pub use recorder::Recorder;
pub(crate) use salvage::salvage;
pub(crate) use storage::FileStorage;
pub use storage::{LARGEST_RECORD_BYTES, Storage};
pub use torn::TornTail;
pub use verify::{Verification, last_seal, verify, verify_bytes};
pub use words::GRADE_WORDS;
pub(crate) use words::{GRADES, PHASE_WORDS, PHASES};
