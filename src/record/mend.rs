//! A new record of all that is whole in a damaged one.

use std::path::{Path, PathBuf};

use super::contents::check_beginning;
use super::fault::{RecordFault, Trouble};
use super::glance::glance;
use super::names::is_run_name;
use super::open::file_bytes;
use super::rescue::save_as;
use super::salvage::{salvage, with_own_line_ends};
use super::{Contents, Mended, TornTail, Verification, verify_bytes};

/// How many letters of the old name the new one has, so that it is one.
const LONGEST_OLD_NAME: usize = 180;
/// How many names are tried for the new record.
const TRIES: usize = 100;

/// Writes a new record beside the damaged one at `path`, of all its parts that are whole; the damaged
/// file stays as it is. Gives the new file, what is missing in it, and what was cut off at the end.
///
/// # Errors
/// [`Trouble::NothingToMend`] when the record is whole, [`Trouble::OnlyTorn`] when all but its end is,
/// [`Trouble::MendedBefore`], [`Trouble::NothingWhole`] when nothing in it is, [`Trouble::Newer`], and whatever
/// the disk refuses.
pub fn mend(path: &Path) -> Result<(PathBuf, Mended, Option<TornTail>), RecordFault> {
    let fault = |trouble: Trouble| trouble.at(path);
    let bytes = file_bytes(path)?;
    let plain = with_own_line_ends(&bytes);
    if plain == bytes {
        match verify_bytes(&bytes).as_slice() {
            [Verification::Sound { .. }] => return Err(fault(Trouble::NothingToMend)),
            [Verification::Torn(tail)] if !tail.added => {
                return Err(fault(Trouble::OnlyTorn { line: tail.line, message: tail.message() }));
            }
            _ => {}
        }
    }
    let salvage = salvage(&plain, &name_of(path)).map_err(|trouble| fault(nothing_in(&plain, trouble)))?;
    let id: String = salvage.contents.header.id.chars().take(LONGEST_OLD_NAME).collect();
    let names = (1..=TRIES).map(|n| if n == 1 { format!("{id}-mended") } else { format!("{id}-mended-{n}") });
    let mut refused = Trouble::Exists;
    for name in names {
        let new = path.with_file_name(format!("{name}.toml"));
        match save_as(&new, &salvage.record(&name)) {
            Ok(()) => {
                let Contents { header, torn, .. } = salvage.contents;
                return Ok((new, header.mended.unwrap_or_default(), torn));
            }
            Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {
                let from = glance(&new).ok().and_then(|before| before.mended);
                if from == Some(salvage.contents.header.id.clone()) {
                    return Err(fault(Trouble::MendedBefore { before: new }));
                }
            }
            Err(error) => {
                refused = Trouble::refused("write", &error);
                break;
            }
        }
    }
    Err(refused.at(&path.with_file_name(format!("{id}-mended.toml"))))
}

/// Why nothing whole was found: where it is no record, that.
fn nothing_in(bytes: &[u8], trouble: Trouble) -> Trouble {
    match (trouble, check_beginning(bytes)) {
        (Trouble::NothingWhole, Err(other @ (Trouble::NotARecord | Trouble::Empty))) => other,
        (trouble, _) => trouble,
    }
}

/// The name that a file gives a record that has lost its own.
fn name_of(path: &Path) -> String {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    if is_run_name(&stem) { stem.into_owned() } else { "record".to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_record_without_a_name_has_its_files_if_that_can_be_one() {
        for (file, expected) in [
            ("a/20310405-0900-flush.toml", "20310405-0900-flush"),
            ("a/my notes.toml", "record"),
            ("..", "record"),
        ] {
            assert_eq!(name_of(Path::new(file)), expected, "{file}");
        }
    }
}
