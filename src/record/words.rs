//! The words that stand in a record for kinds, outcomes and the roles of texts.

use super::{EntryKind, Grade, Outcome, Phase, Provenance, TextRole};
use crate::quantity::Verdict;

/// Every kind of entry with its word.
const KINDS: [(&str, EntryKind); 19] = [
    ("fact", EntryKind::Fact),
    ("done", EntryKind::Done),
    ("reading", EntryKind::Reading),
    ("choice", EntryKind::Choice),
    ("text", EntryKind::Text),
    ("computed", EntryKind::Computed),
    ("checked", EntryKind::Checked),
    ("wait-begun", EntryKind::WaitBegun),
    ("waited", EntryKind::Waited),
    ("skipped", EntryKind::Skipped),
    ("withdrawn", EntryKind::Withdrawn),
    ("note", EntryKind::Note),
    ("paused", EntryKind::Paused),
    ("resumed", EntryKind::Resumed),
    ("stopped", EntryKind::Stopped),
    ("message", EntryKind::Message),
    ("finding", EntryKind::Finding),
    ("not-so", EntryKind::NotSo),
    ("understood", EntryKind::Understood),
];

/// The member of a table whose word this is.
fn named<T: Copy>(table: &[(&str, T)], word: &str) -> Option<T> {
    table.iter().find(|(known, _)| *known == word).map(|(_, member)| *member)
}

/// The word of a member of a table that has every member.
fn word_of<T: PartialEq>(table: &[(&'static str, T)], member: &T) -> &'static str {
    table.iter().find(|(_, known)| known == member).map_or("", |(word, _)| word)
}

/// The words of a table, in their order.
const fn words_of<T: Copy, const N: usize>(table: &[(&'static str, T); N]) -> [&'static str; N] {
    let mut words = [""; N];
    let mut at = 0;
    while at < N {
        words[at] = table[at].0;
        at += 1;
    }
    words
}

/// Lends an enum the words of its table.
macro_rules! in_words {
    ($($type:ident: $table:ident;)+) => {$(
        impl $type {
            /// The word that stands for it in a record, such as `wait-begun` for a kind of entry.
            ///
            /// ```
            /// use tankhand::record::EntryKind;
            /// assert_eq!(EntryKind::WaitBegun.word(), "wait-begun");
            /// assert_eq!(EntryKind::named("wait-begun"), Some(EntryKind::WaitBegun));
            /// ```
            pub fn word(self) -> &'static str {
                word_of(&$table, &self)
            }

            /// What that word stands for; `None` when this version knows nothing of that name.
            pub fn named(word: &str) -> Option<$type> {
                named(&$table, word)
            }

            /// Each, in the order of the documentation.
            pub fn all() -> impl Iterator<Item = $type> {
                $table.iter().map(|(_, each)| *each)
            }
        }
    )+};
}

in_words! {
    EntryKind: KINDS;
    Grade: GRADES;
    Phase: PHASES;
    Provenance: PROVENANCES;
    TextRole: ROLES;
    Outcome: OUTCOMES;
}

/// Every grade of a finding with its word.
pub const GRADES: [(&str, Grade); 5] = [
    ("good", Grade::Good),
    ("note", Grade::Note),
    ("attention", Grade::Attention),
    ("act", Grade::Act),
    ("stop", Grade::Stop),
];

/// The words of the grades of findings, the worst last.
pub const GRADE_WORDS: [&str; 5] = words_of(&GRADES);

/// The words of the phases of the work, in their order.
pub const PHASE_WORDS: [&str; 4] = words_of(&PHASES);

/// Every phase with its word.
pub const PHASES: [(&str, Phase); 4] =
    [("before", Phase::Before), ("found", Phase::Found), ("done", Phase::Done), ("left", Phase::Left)];

/// Every provenance with its word.
const PROVENANCES: [(&str, Provenance); 5] = [
    ("measured", Provenance::Measured),
    ("chosen", Provenance::Chosen),
    ("told", Provenance::SystemFile),
    ("recalled", Provenance::Recalled),
    ("assumed", Provenance::Assumed),
];

/// Every role of a text with its word.
const ROLES: [(&str, TextRole); 5] = [
    ("procedure", TextRole::Procedure),
    ("own-procedure", TextRole::OwnProcedure),
    ("part", TextRole::Part),
    ("own-part", TextRole::OwnPart),
    ("system", TextRole::System),
];

impl TextRole {
    /// Whether it is the procedure that was performed, whosoever.
    pub(crate) fn is_procedure(self) -> bool {
        matches!(self, TextRole::Procedure | TextRole::OwnProcedure)
    }
}

/// Every outcome with its word.
const OUTCOMES: [(&str, Outcome); 3] =
    [("completed", Outcome::Completed), ("failed", Outcome::Failed), ("unfinished", Outcome::Unfinished)];

/// The verdict that word stands for.
pub(super) fn verdict(word: &str) -> Option<Verdict> {
    [Verdict::Pass, Verdict::Fail, Verdict::Unsure].into_iter().find(|verdict| verdict.word() == word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_leads_back() {
        for kind in EntryKind::all() {
            assert_eq!(EntryKind::named(kind.word()), Some(kind));
        }
        for word in ["procedure", "own-procedure", "part", "own-part", "system"] {
            assert_eq!(TextRole::named(word).map(TextRole::word), Some(word));
        }
        for word in ["completed", "failed", "unfinished"] {
            assert_eq!(Outcome::named(word).map(Outcome::word), Some(word));
        }
        for (word, grade) in GRADES {
            assert_eq!((Grade::named(word), grade.word()), (Some(grade), word));
        }
        for (word, phase) in PHASES {
            assert_eq!((Phase::named(word), phase.word()), (Some(phase), word));
        }
        for (word, provenance) in PROVENANCES {
            assert_eq!((Provenance::named(word), provenance.word()), (Some(provenance), word));
        }
        for word in ["pass", "fail", "can't tell"] {
            assert_eq!(verdict(word).map(Verdict::word), Some(word));
        }
        assert_eq!(EntryKind::named("Fact"), None);
        assert_eq!(verdict("perhaps"), None);
    }
}
