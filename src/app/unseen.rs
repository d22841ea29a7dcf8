//! What is not understood is not taken for absent: what is said where records were looked for.

use crate::record::FolderAccount;
use crate::words::counted;

/// Says of how many files it is not known what they hold; nothing when that is known of all.
pub(super) fn unseen(account: &FolderAccount) -> Option<String> {
    let files = Some(account.not_understood).filter(|n| *n > 0).map(|n| counted(n, "file"))?;
    Some(format!("{files} among the records cannot be understood: `tankhand records` says which, and why."))
}

/// What is said where nothing was found, and that there is more than could be seen.
pub(super) fn with_unseen(none: &str, account: &FolderAccount) -> String {
    let stop = if none.ends_with(['.', '?']) { "" } else { "." };
    unseen(account).map_or_else(|| none.to_string(), |unseen| format!("{none}{stop} But {unseen}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_could_not_be_seen_is_told() {
        let told = |not_understood| {
            with_unseen("None", &FolderAccount { not_understood, ..FolderAccount::default() })
        };
        assert_eq!(told(0), "None");
        assert_eq!(
            told(2),
            "None. But 2 files among the records cannot be understood: `tankhand records` says which, and why."
        );
    }
}
