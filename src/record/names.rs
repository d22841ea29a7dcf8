//! The names of runs, which are also the names of their records' files.

use std::path::Path;

use crate::clock::Moment;

/// Whether a run may have that name: letters, digits, `-`, `_` and `.`, at most 200, not
/// beginning with `.` or `-`.
pub(super) fn is_run_name(name: &str) -> bool {
    let fits = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.');
    (1..=200).contains(&name.len()) && name.chars().all(fits) && !name.starts_with(['.', '-'])
}

/// Whether a file has the name of a run: day, time, procedure.
pub(super) fn is_stamped(path: &Path) -> bool {
    let stem = path.file_stem().unwrap_or_default().as_encoded_bytes();
    let (Some(day), Some(time)) = (stem.get(..9), stem.get(9..14)) else { return false };
    let digits = |part: &[u8]| {
        part.split_last().is_some_and(|(end, digits)| *end == b'-' && digits.iter().all(u8::is_ascii_digit))
    };
    digits(day) && digits(time)
}

/// A path as it is typed to a shell.
pub(crate) fn typed_path(path: &Path) -> String {
    let path = path.display().to_string();
    let is_plain = |c: char| c.is_alphanumeric() || "/.,:_-+@%".contains(c) || (cfg!(windows) && c == '\\');
    match path.chars().all(is_plain) {
        true => path,
        false if cfg!(windows) => format!("\"{path}\""),
        false => format!("'{}'", path.replace('\'', r"'\''")),
    }
}

/// A name for a run begun now, such as `20310405-0901-flush`; with `-2`, `-3` … when `folder`
/// has a record of that name already.
///
/// ```
/// use tankhand::clock::Moment;
/// use tankhand::record::name_for;
/// let began = Moment::parse("2031-04-05T09:01:00-05:00").unwrap();
/// let folder = std::path::Path::new("no-such-folder");
/// assert_eq!(name_for(folder, began, "flush"), "20310405-0901-flush");
/// ```
pub fn name_for(folder: &Path, began: Moment, procedure: &str) -> String {
    let fit = |c: char| if c.is_ascii_alphanumeric() || matches!(c, '-' | '_') { c } else { '-' };
    let procedure: String = procedure.chars().map(fit).take(100).collect();
    let first = format!("{}-{procedure}", began.stamp());
    let free = |name: &String| !folder.join(format!("{name}.toml")).exists();
    let later = (2..10_000).map(|n| format!("{first}-{n}"));
    std::iter::once(first.clone()).chain(later).find(free).unwrap_or(first)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn a_path_is_typed_as_one_word() {
        for (path, typed) in [
            ("a/20310405-0901-flush.toml", "a/20310405-0901-flush.toml"),
            ("a/it (1).toml", "'a/it (1).toml'"),
            ("the owner's.toml", r"'the owner'\''s.toml'"),
            ("$HOME", "'$HOME'"),
        ] {
            assert_eq!(typed_path(Path::new(path)), typed);
        }
    }

    #[test]
    fn a_name_that_is_taken_gets_a_number() {
        let folder = tempfile::tempdir().unwrap();
        let began = Moment::parse("2031-04-05T09:01:00-05:00").unwrap();
        for expected in ["20310405-0901-my-flush", "20310405-0901-my-flush-2", "20310405-0901-my-flush-3"] {
            let name = name_for(folder.path(), began, "my/flush");
            assert_eq!(name, expected);
            assert!(is_run_name(&name));
            std::fs::write(folder.path().join(format!("{name}.toml")), "").unwrap();
        }
    }

    #[test]
    fn a_long_name_is_cut_and_names_have_at_most_two_hundred_letters() {
        let folder = tempfile::tempdir().unwrap();
        let began = Moment::parse("2031-04-05T09:01:00-05:00").unwrap();
        let name = |letters: usize| name_for(folder.path(), began, &"x".repeat(letters));
        assert_eq!(name(99), format!("20310405-0901-{}", "x".repeat(99)));
        for letters in [100, 101, 300] {
            assert_eq!(name(letters), format!("20310405-0901-{}", "x".repeat(100)));
        }
        for good in ["x", "a-b_c.d", "9", "_", &"x".repeat(200)] {
            assert!(is_run_name(good), "{good}");
        }
    }

    /// Day and time, each with its dash: a damaged file of such a name was a record.
    #[test]
    fn a_runs_name_begins_with_a_day_and_a_time() {
        for (name, stamped) in [
            ("20310405-0901-flush.toml", true),
            ("20310405-0901-.toml", true),
            ("20310405-0901.toml", false),
            ("20310405-notes.toml", false),
            ("20310405-x901-notes.toml", false),
            ("20310405x0901-notes.toml", false),
            ("2031o405-0901-notes.toml", false),
            ("notes.toml", false),
        ] {
            assert_eq!(is_stamped(Path::new(name)), stamped, "{name}");
        }
    }

    #[test]
    fn names_that_would_lead_elsewhere_are_refused() {
        for bad in ["", ".", "..", "../x", "a/b", "-x", ".x", "a b", "é", "a\0", &"x".repeat(201)] {
            assert!(!is_run_name(bad), "{bad}");
        }
    }
}
