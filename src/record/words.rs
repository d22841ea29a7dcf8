//! The words that stand in a record for kinds, outcomes and the roles of texts.

use super::for_now::ANSWERS;
use super::{EntryKind, ForNow, Grade, Outcome, Phase, Provenance, TextRole};
use crate::quantity::Verdict;

/// Every kind of entry with its word and what it tells of.
const KINDS: [(&str, EntryKind, &str); 19] = [
    ("fact", EntryKind::Fact, "something true before the run: asked, or from the system file"),
    ("done", EntryKind::Done, "a thing was done"),
    ("reading", EntryKind::Reading, "a reading was taken"),
    ("choice", EntryKind::Choice, "one of several words was chosen"),
    ("text", EntryKind::Text, "a text was written"),
    ("computed", EntryKind::Computed, "a value was computed"),
    ("checked", EntryKind::Checked, "a check was made"),
    ("wait-begun", EntryKind::WaitBegun, "a wait began"),
    ("waited", EntryKind::Waited, "a wait ended"),
    ("skipped", EntryKind::Skipped, "a step was left out, with a reason"),
    ("withdrawn", EntryKind::Withdrawn, "an earlier answer was taken back"),
    ("note", EntryKind::Note, "a remark"),
    ("paused", EntryKind::Paused, "the run was left, to be gone on with later"),
    ("resumed", EntryKind::Resumed, "the run was gone on with"),
    ("stopped", EntryKind::Stopped, "the procedure stopped the work"),
    ("message", EntryKind::Message, "the person was told something"),
    ("finding", EntryKind::Finding, "a conclusion was drawn"),
    ("not-so", EntryKind::NotSo, "the person said that it is not so, or does not happen"),
    (
        "understood",
        EntryKind::Understood,
        "a warning was read, and the word for that was typed; `warned` has the messages",
    ),
];

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
                $table.iter().find(|(_, each, ..)| *each == self).map_or("", |(word, ..)| *word)
            }

            /// What that word stands for; `None` when this version knows nothing of that name.
            pub fn named(word: &str) -> Option<$type> {
                $table.iter().find(|(known, ..)| *known == word).map(|(_, each, ..)| *each)
            }

            /// Each, in the order of the documentation.
            pub fn all() -> impl Iterator<Item = $type> {
                $table.iter().map(|(_, each, ..)| *each)
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
    ForNow: ANSWERS;
}

impl EntryKind {
    /// What it tells of.
    pub fn means(self) -> &'static str {
        KINDS.iter().find(|(_, kind, _)| *kind == self).map_or("", |(.., means)| *means)
    }
}

/// Every grade of a finding with its word.
pub(crate) const GRADES: [(&str, Grade); 5] = [
    ("good", Grade::Good),
    ("note", Grade::Note),
    ("attention", Grade::Attention),
    ("act", Grade::Act),
    ("stop", Grade::Stop),
];

/// The words of the grades of findings, the worst last.
pub const GRADE_WORDS: [&str; 5] = words_of(&GRADES);

/// The words of the phases of the work, in their order.
pub(crate) const PHASE_WORDS: [&str; 4] = words_of(&PHASES);

/// Every phase with its word.
pub(crate) const PHASES: [(&str, Phase); 4] =
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
