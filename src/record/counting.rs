//! Which of several files that hold one run is the one that counts.

use std::path::{Path, PathBuf};

use super::contents::read as read_bytes;
use super::open::{file_bytes, read};
use super::rescue::SAVED;
use super::{Glance, glance};

/// The file that counts for the run `id`, of those beside a record that was looked at: the one of the run's
/// name, unless one that was saved when the run could no longer write to it goes on where it ends. `None` when
/// none of these is understood.
pub(super) fn counting(seen: &Glance, id: &str) -> Option<PathBuf> {
    let own = Some(seen.path.with_file_name(format!("{id}.toml"))).filter(|path| holds(seen, path, id));
    saved_beside(seen, id).fold(own, |best, saved| match best {
        Some(best) if !goes_on(&saved, &best) => Some(best),
        _ => Some(saved),
    })
}

/// The files saved beside a record that hold its run, and neither are its beginning nor go on where it ends.
pub(crate) fn diverging(seen: &Glance) -> Vec<PathBuf> {
    let same = |saved: &PathBuf| file_bytes(saved).ok() == file_bytes(&seen.path).ok();
    let one_goes_on = |saved: &PathBuf| goes_on(&seen.path, saved) || goes_on(saved, &seen.path);
    let others = saved_beside(seen, &seen.id).filter(|saved| *saved != seen.path);
    others.filter(|saved| !same(saved) && !one_goes_on(saved)).collect()
}

/// Whether every seal of a record holds.
pub(super) fn is_whole(path: &Path) -> bool {
    read(path).is_ok()
}

/// The files that were saved when a run could no longer write to its record, as far as they hold it.
fn saved_beside(seen: &Glance, id: &str) -> impl Iterator<Item = PathBuf> {
    let saved = (1..).map(move |n| seen.path.with_file_name(format!("{id}{SAVED}{n}.toml")));
    saved.take_while(|path| path.symlink_metadata().is_ok()).filter(move |path| holds(seen, path, id))
}

fn holds(seen: &Glance, path: &Path, id: &str) -> bool {
    match *path == seen.path {
        true => seen.id == id,
        false => glance(path).is_ok_and(|other| other.id == id),
    }
}

/// Whether a record is whole and goes on where another ends, or where what is whole of it ends.
fn goes_on(later: &Path, earlier: &Path) -> bool {
    let Some(later) = file_bytes(later).ok().filter(|bytes| read_bytes(bytes).is_ok()) else { return false };
    let Ok(earlier) = file_bytes(earlier) else { return true };
    match read_bytes(&earlier) {
        Ok((_, scan)) => later != earlier && later.starts_with(&earlier[..scan.sealed()]),
        Err(_) => true,
    }
}
