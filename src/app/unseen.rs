//! What is not understood is not taken for absent: what is said where records were looked for.

use super::Home;
use crate::record::FolderAccount;
use crate::words::{counted, path_shown};

/// Says of how many files it is not known what they hold; nothing when that is known of all.
pub(super) fn unseen(account: &FolderAccount) -> Option<String> {
    let files = Some(account.not_understood).filter(|n| *n > 0).map(|n| counted(n, "file"))?;
    Some(format!("{files} among the records cannot be understood: `tankhand records` says which, and why."))
}

/// Why no files are seen.
pub(super) fn none_seen(home: &Home) -> String {
    let folder = home.records();
    let at = path_shown(&folder);
    match folder.is_dir() {
        true => format!("There are no records yet: {at} is empty."),
        false => {
            format!(
                "There is no folder {at}: no run has been recorded here yet, or the folder was moved or deleted."
            )
        }
    }
}

/// What is said where nothing was found, and that there is more than could be seen, or no folder to look into.
pub(super) fn with_unseen(none: &str, account: &FolderAccount, home: &Home) -> String {
    let stop = if none.ends_with(['.', '?']) { "" } else { "." };
    let unseen = unseen(account).map(|unseen| format!("But {unseen}"));
    let unseen = unseen.or_else(|| (!home.records().is_dir()).then(|| none_seen(home)));
    unseen.map_or_else(|| none.to_string(), |unseen| format!("{none}{stop} {unseen}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_could_not_be_seen_is_told() {
        let folder = tempfile::tempdir().unwrap();
        let home = Home::find(Some(folder.path())).unwrap();
        std::fs::create_dir(home.records()).unwrap();
        let note = |not_understood| {
            with_unseen("None", &FolderAccount { not_understood, ..FolderAccount::default() }, &home)
        };
        assert_eq!(note(0), "None");
        assert_eq!(
            note(2),
            "None. But 2 files among the records cannot be understood: `tankhand records` says which, and why."
        );
    }
}
