//! A new record of all that is whole in a damaged one.

use std::path::{Path, PathBuf};

use super::fault::{RecordFault, Trouble};
use super::names::is_run_name;
use super::open::file_bytes;
use super::rescue::save_as;
use super::salvage::{salvage, with_own_line_ends};
use super::{Mended, verify_bytes};

/// How many letters of the old name the new one has, so that it is one.
const LONGEST: usize = 180;
/// How many names are tried for the new record.
const TRIES: usize = 100;

/// Writes a new record beside the damaged one at `path`, of all its parts that are whole; the damaged
/// file stays as it is. Gives the new file, and what is missing in it.
///
/// # Errors
/// [`Trouble::NothingToMend`] when the record is whole, [`Trouble::NothingWhole`] when nothing in it is,
/// [`Trouble::Newer`], and whatever the disk refuses.
pub fn mend(path: &Path) -> Result<(PathBuf, Mended), RecordFault> {
    let fault = |trouble: Trouble| trouble.at(path);
    let bytes = file_bytes(path)?;
    let plain = with_own_line_ends(&bytes);
    if plain == bytes && verify_bytes(&bytes).iter().all(super::Verification::is_sound) {
        return Err(fault(Trouble::NothingToMend));
    }
    let salvage = salvage(&plain, &name_of(path)).map_err(fault)?;
    let id: String = salvage.contents.header.id.chars().take(LONGEST).collect();
    let names = (1..=TRIES).map(|n| if n == 1 { format!("{id}-mended") } else { format!("{id}-mended-{n}") });
    let mut refused = Trouble::Exists;
    for name in names {
        let new = path.with_file_name(format!("{name}.toml"));
        match save_as(&new, &salvage.record(&name)) {
            Ok(()) => return Ok((new, salvage.contents.header.mended.unwrap_or_default())),
            Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {}
            Err(error) => {
                refused = Trouble::Io { doing: "write", error: error.to_string() };
                break;
            }
        }
    }
    Err(refused.at(&path.with_file_name(format!("{id}-mended.toml"))))
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
