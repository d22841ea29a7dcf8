//! What a program that died has left behind: hidden parts, folders for passing things.

use std::fs;
use std::io;
use std::path::Path;
use std::time::Duration;

use super::folder_of;

/// No writer takes so long: what is older than the newest by this much was left by one that died.
const OLD: Duration = Duration::from_secs(24 * 3600);

/// Takes away the parts that writers who died left beside a new one.
pub(crate) fn sweep_parts(new: &Path) {
    sweep(new, is_part, |part| fs::remove_file(part));
}

/// Takes away what stands beside `new`, which was just made, has a name of that kind, and is a day older.
/// What cannot be taken away stays: it does no harm.
pub(crate) fn sweep(
    new: &Path,
    is_leftover: impl Fn(&str) -> bool,
    take_away: impl Fn(&Path) -> io::Result<()>,
) {
    let made = |path: &Path| fs::symlink_metadata(path).and_then(|it| it.modified()).ok();
    let (Some(now), Ok(files)) = (made(new), fs::read_dir(folder_of(new))) else { return };
    for file in files.flatten().filter(|file| is_leftover(&file.file_name().to_string_lossy())) {
        let path = file.path();
        if made(&path).and_then(|then| now.duration_since(then).ok()).is_some_and(|age| age > OLD) {
            drop(take_away(&path));
        }
    }
}

/// Whether a name is that of a part: `.NAME.PROCESS-NUMBER.part`.
fn is_part(name: &str) -> bool {
    let numbers = name.strip_prefix('.').and_then(|it| it.strip_suffix(".part")?.rsplit_once('.'));
    let is_number = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    numbers
        .and_then(|(_, numbers)| numbers.split_once('-'))
        .is_some_and(|(a, b)| is_number(a) && is_number(b))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::disk::{Disk, OwnDisk, part_beside};

    #[test]
    fn what_is_a_day_older_than_the_newest_part_is_swept() {
        let folder = tempfile::tempdir().unwrap();
        let (file, new) = part_beside(&folder.path().join("it.toml"), |part| OwnDisk.create(part)).unwrap();
        let now = file.metadata().unwrap().modified().unwrap();
        let (old, young) = (now - OLD - Duration::from_secs(2), now - OLD);
        let others = [
            (".it.toml.7-0.part", old),
            (".a.b.4000000-99.part", old),
            (".it.toml.8-0.part", young),
            ("it.toml", old),
            ("it.toml.7-0.part", old),
            (".it.toml.7-.part", old),
            (".it.toml.x-0.part", old),
            (".part", old),
        ];
        for (name, when) in others {
            let file = OwnDisk.create(&folder.path().join(name)).unwrap();
            file.set_modified(when).unwrap();
        }
        sweep_parts(&new);
        let stands = |(name, _): &(&str, _)| folder.path().join(name).exists();
        let stay: Vec<&str> = others.iter().filter(|it| stands(it)).map(|(name, _)| *name).collect();
        assert_eq!(stay, others[2..].iter().map(|(name, _)| *name).collect::<Vec<_>>());
        assert!(new.exists());
    }
}
