//! The words for what can go wrong with a record.

use std::fmt;
use std::io::ErrorKind;
use std::path::Path;

use super::names::typed_path;
use super::{Edit, Section, Trouble};
use crate::words::{on_one_line, path_shown};

impl Trouble {
    /// What is wrong, in one sentence without a full stop.
    pub fn what(&self) -> String {
        match self {
            Trouble::Missing => "there is no such file".to_string(),
            Trouble::NotAFile(what) => format!("this is {what}, not a record"),
            Trouble::Io { doing, error, .. } => format!("could not {doing} it: {error}"),
            Trouble::Empty => "the file is empty".to_string(),
            Trouble::TooLarge { bytes } => format!("the file holds {bytes} bytes, more than any record"),
            Trouble::NotARecord => "this is not a record".to_string(),
            Trouble::Newer { format } => {
                format!("the record has format {format}; this version reads format 1")
            }
            Trouble::StartDamaged => "this is a record, but its beginning was changed".to_string(),
            Trouble::ByteOrderMark => "a byte order mark stands before the record".to_string(),
            Trouble::LineEnds => {
                "the lines of the record have other ends than it was written with".to_string()
            }
            Trouble::OddName => "this is a record, but its name does not end in `.toml`".to_string(),
            Trouble::Renamed { id } => format!("the record in this file is `{}`", on_one_line(id)),
            Trouble::Twice { id, .. } => format!("the record `{}` is there twice", on_one_line(id)),
            Trouble::NothingWhole => "nothing in it is whole".to_string(),
            Trouble::OnlyNamed => "it is named like a record, but nothing of one is in it".to_string(),
            Trouble::OnlyTorn { message, .. } => message.clone(),
            Trouble::MendedBefore { .. } => "this record was mended before".to_string(),
            Trouble::NothingToMend => "the record is whole".to_string(),
            Trouble::Incomplete => "entries are missing from this mended record".to_string(),
            Trouble::HeadTorn => "the record breaks off before its first entry".to_string(),
            Trouble::Edited(edit) if edit.is_of_seal() => {
                format!("the seal of {} was changed after it was written", edit.section)
            }
            Trouble::Edited(edit) => {
                format!("{}{} was changed after it was written", missing(edit), edit.section)
            }
            Trouble::Added { bytes, .. } => format!("{bytes} bytes were added to the end of the record"),
            Trouble::Unclear { message, .. } => format!("this part of the record is not clear: {message}"),
            Trouble::Foreign { n, kind } => {
                format!("entry {n} is of a kind unknown here, `{}`", on_one_line(kind))
            }
            Trouble::Finished(outcome) => format!("this run has ended ({})", outcome.word()),
            Trouble::Exists => "a record of that name is already there".to_string(),
            Trouble::Busy => "another tankhand is writing this record".to_string(),
            Trouble::BadName(name) => format!("{:?} cannot name a run", on_one_line(name)),
            Trouble::Unwritable { n: 0, message } => format!("this cannot be recorded: {message}"),
            Trouble::Unwritable { n, message } => format!("entry {n} cannot be recorded: {message}"),
            Trouble::Lost { doing, error, .. } => format!("could not {doing} the latest entries: {error}"),
            Trouble::Displaced { how, .. } => format!("the record {how} while the run went on"),
            Trouble::Closed { .. } => "nothing more can be written to this record".to_string(),
        }
    }

    /// Why it is so, or why it matters.
    pub fn why(&self) -> String {
        match self {
            Trouble::Missing => "it was moved or deleted, or its name is not quite this".to_string(),
            Trouble::Io { kind, .. } => refusal(*kind).0.to_string(),
            Trouble::NotAFile(_) => {
                "a record is one plain file, so that nothing else is written to".to_string()
            }
            Trouble::Empty => "the run was broken off before its first line was on the disk".to_string(),
            Trouble::TooLarge { .. } => {
                "something else has written to it, or it is another sort of file".to_string()
            }
            Trouble::NotARecord => {
                "a record begins with `format = ` and tells its program and run".to_string()
            }
            Trouble::StartDamaged
            | Trouble::ByteOrderMark
            | Trouble::LineEnds
            | Trouble::NothingWhole
            | Trouble::OnlyNamed
            | Trouble::OnlyTorn { .. }
            | Trouble::NothingToMend
            | Trouble::Incomplete => self.why_damaged().to_string(),
            Trouble::OddName => "only files of that ending are taken for records".to_string(),
            Trouble::Renamed { .. } => {
                "the file was renamed, or saved beside another; pages know it by the record's name"
                    .to_string()
            }
            Trouble::MendedBefore { before } => {
                format!("{} holds what was whole of it", path_shown(before))
            }
            Trouble::Twice { other, .. } => {
                format!("{} holds it too, and is the one that counts", path_shown(other))
            }
            Trouble::Newer { .. } => "a later tankhand wrote it".to_string(),
            Trouble::HeadTorn => "without a whole head it does not tell what was done with what".to_string(),
            Trouble::Edited(edit) => why_edited(edit),
            Trouble::Added { .. } => "they have no seal, and are not the beginning of an entry".to_string(),
            Trouble::Unclear { .. } => "its seal holds, so another program wrote it so".to_string(),
            Trouble::Foreign { .. } => {
                "a later tankhand wrote it, and going on here might contradict it".to_string()
            }
            Trouble::Finished(_) => "a finished record is never added to".to_string(),
            Trouble::Exists => "a record is never written over".to_string(),
            Trouble::Busy => "two writers would spoil it".to_string(),
            Trouble::BadName(_) => {
                "a run is named with letters, digits, `-`, `_` and `.`, 1 to 200 of them".to_string()
            }
            Trouble::Unwritable { .. } => {
                "the record must stay readable to everyone; nothing was written".to_string()
            }
            Trouble::Lost { saved: Some(_), .. } | Trouble::Displaced { saved: Some(_), .. } => {
                SAVED.to_string()
            }
            Trouble::Displaced { saved: None, .. } => NOT_SAVED.to_string(),
            Trouble::Lost { kept, .. } | Trouble::Closed { kept } => {
                format!("{} safe in the record; what came later may be missing", entries(*kept))
            }
        }
    }

    /// Why a damaged record, or what was made of one, is as it is.
    fn why_damaged(&self) -> &'static str {
        match self {
            Trouble::StartDamaged => {
                "its seals or its entries tell, but its first lines do not; the disk may be failing"
            }
            Trouble::ByteOrderMark => "a text editor put it there; no seal holds so",
            Trouble::LineEnds => {
                "a text editor or a transfer between machines changed them; no seal holds so"
            }
            Trouble::OnlyNamed => {
                "its name begins with a day and a time, as those of records do; the disk may be failing"
            }
            Trouble::OnlyTorn { .. } => "all before it is whole, so there is nothing to mend",
            Trouble::NothingWhole => "not one seal holds, or no time can be read",
            Trouble::NothingToMend => "every seal holds",
            _ => "what comes next rests on what is missing",
        }
    }

    /// What to do about it, where it is about that file.
    pub fn remedy_for(&self, file: &Path) -> String {
        let mend = || format!("`tankhand records mend {}`", on_one_line(&typed_path(file)));
        match self {
            Trouble::Missing => "list the records to see their names".to_string(),
            Trouble::NotAFile(_) => "name the record's file itself".to_string(),
            Trouble::Io { kind, .. } => refusal(*kind).1.to_string(),
            Trouble::Empty => "delete it; where no other file holds the run, begin it anew".to_string(),
            Trouble::HeadTorn => LOOK_INTO_IT.to_string(),
            Trouble::TooLarge { .. } | Trouble::NotARecord => {
                "name a file from the folder of records".to_string()
            }
            Trouble::StartDamaged => format!("copy the card or disk, then save what is whole: {}", mend()),
            Trouble::ByteOrderMark | Trouble::LineEnds => {
                format!("nothing needs to be lost; write it anew as it was: {}", mend())
            }
            Trouble::OddName => "rename it; or, if it is a copy, keep it elsewhere".to_string(),
            Trouble::Renamed { id } => {
                format!(
                    "name the file `{}.toml`; a damaged file of that name goes elsewhere first",
                    on_one_line(id)
                )
            }
            Trouble::Twice { .. } => {
                "compare the two, and keep one of them elsewhere; `tankhand records verify` checks both"
                    .to_string()
            }
            Trouble::NothingWhole | Trouble::OnlyNamed => "bring the file back from a copy".to_string(),
            Trouble::OnlyTorn { .. } => CUT_OFF.to_string(),
            Trouble::MendedBefore { .. } => {
                "use that one; to mend this one anew, move that one elsewhere".to_string()
            }
            Trouble::NothingToMend => "nothing: use it as it is".to_string(),
            Trouble::Incomplete | Trouble::Finished(_) => "begin a new run".to_string(),
            Trouble::Newer { .. } | Trouble::Foreign { .. } => {
                "use the tankhand that wrote it, or a later one; the file can be read with any text editor"
                    .to_string()
            }
            Trouble::Edited(_) => {
                format!(
                    "bring the file back from a copy; where there is none, {} saves what is whole",
                    mend()
                )
            }
            Trouble::Added { .. } => "take them out with a text editor, then go on".to_string(),
            Trouble::Unclear { .. } => "read it with a text editor; its seals hold".to_string(),
            Trouble::Exists => "begin the run under another name".to_string(),
            Trouble::Busy => "end the other one first, or wait for it".to_string(),
            Trouble::BadName(_) => "choose another name".to_string(),
            Trouble::Unwritable { .. } => "answer again".to_string(),
            Trouble::Lost { saved: Some(path), .. } | Trouble::Displaced { saved: Some(path), .. } => {
                go_on_with(path, file)
            }
            Trouble::Displaced { .. } => {
                "bring the file back from a copy; note what you answered since, while you know it".to_string()
            }
            Trouble::Lost { .. } => "make room on the disk, then resume the run from its record".to_string(),
            Trouble::Closed { .. } => "resume the run from its record, or begin a new one".to_string(),
        }
    }
}

/// Why nothing is lost though a record could not be written to.
const SAVED: &str = "every answer, the last one too, was saved in another file";
/// Why something is.
const NOT_SAVED: &str = "the answers could not be saved in another file either";
/// What to do about a beginning that was cut off.
const LOOK_INTO_IT: &str =
    "look into it with a text editor; when no answer is in it, delete it and begin anew";
/// What to do about an end that was cut off.
pub(super) const CUT_OFF: &str = "resume the run, which cuts it off and asks again";

/// To go on with what was saved of a file.
fn go_on_with(saved: &Path, file: &Path) -> String {
    format!("go on with it: tankhand resume {}{}", on_one_line(&typed_path(saved)), moved_later(saved, file))
}

/// How a change is seen.
fn why_edited(edit: &Edit) -> String {
    let Edit { missing_from, seal_line, first_line, .. } = edit;
    if edit.is_of_seal() {
        return "the next seal holds with the seal it ought to have; all else is as it was written"
            .to_string();
    }
    let unfit = format!("the seal on line {seal_line} does not fit the bytes before it");
    match missing_from {
        Some(_) => format!("{unfit} and the seal before those"),
        None => format!("{unfit}; the change is between line {first_line} and there"),
    }
}

/// Which entries may be missing before a change.
fn missing(edit: &Edit) -> String {
    match (edit.missing_from, edit.section) {
        (Some(first), Section::Entry(n)) => match n - first {
            1 => format!("entry {first} is missing, or "),
            2 => format!("entries {first} and {} are missing, or ", n - 1),
            _ => format!("entries {first} to {} are missing, or ", n - 1),
        },
        _ => String::new(),
    }
}

/// Why the machine refused, and what to do about it.
fn refusal(kind: ErrorKind) -> (&'static str, &'static str) {
    match kind {
        ErrorKind::PermissionDenied => {
            ("this account may not do that there", "set right who may read and write there")
        }
        ErrorKind::ReadOnlyFilesystem => (
            "nothing can be written to that disk as it is",
            "make it writable, or name another folder with --home",
        ),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
            ("there is no room left for it", "make room on the disk, then try again")
        }
        ErrorKind::NotADirectory => (
            "a file stands where a folder belongs",
            "move that file elsewhere, or name another folder with --home",
        ),
        ErrorKind::NotFound => {
            ("its disk may not be there", "connect or mount the disk, or name another folder with --home")
        }
        _ => ("the machine refused", "check whether the disk is there, full or failing"),
    }
}

/// What to do with a record that was saved in another folder than the one it belongs in.
fn moved_later(saved: &Path, file: &Path) -> String {
    let lost = "a restart may delete it: make room";
    let before = match saved.parent() {
        folder if folder == file.parent() => return String::new(),
        Some(folder) if folder == std::env::temp_dir() => lost,
        _ => "make room",
    };
    format!("; {before}, then move it to {}", on_one_line(&typed_path(file)))
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.what())
    }
}

impl fmt::Display for Section {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Section::Head => f.write_str("the head of the record"),
            Section::Entry(n) => write!(f, "entry {n}"),
            Section::Result => f.write_str("the result"),
        }
    }
}

/// A count of entries, with its noun.
pub(super) fn entries(n: u64) -> String {
    if n == 1 { "1 entry".to_string() } else { format!("{n} entries") }
}
