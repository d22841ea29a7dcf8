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

impl EntryKind {
    /// The word that stands for it in a record, such as `wait-begun`.
    ///
    /// ```
    /// use tankhand::record::EntryKind;
    /// assert_eq!(EntryKind::WaitBegun.word(), "wait-begun");
    /// assert_eq!(EntryKind::named("wait-begun"), Some(EntryKind::WaitBegun));
    /// ```
    pub fn word(self) -> &'static str {
        word_of(&KINDS, &self)
    }

    /// The kind that word stands for; `None` when this version knows none.
    pub fn named(word: &str) -> Option<EntryKind> {
        named(&KINDS, word)
    }

    /// Every kind, in the order of the documentation.
    pub fn all() -> impl Iterator<Item = EntryKind> {
        KINDS.iter().map(|(_, kind)| *kind)
    }
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

impl Grade {
    /// `good`, `note`, `attention`, `act` or `stop`.
    pub fn word(self) -> &'static str {
        word_of(&GRADES, &self)
    }

    /// The grade that word stands for.
    pub fn named(word: &str) -> Option<Grade> {
        named(&GRADES, word)
    }
}

/// The words of the phases of the work, in their order.
pub const PHASE_WORDS: [&str; 4] = words_of(&PHASES);

/// Every phase with its word.
pub const PHASES: [(&str, Phase); 4] =
    [("before", Phase::Before), ("found", Phase::Found), ("done", Phase::Done), ("left", Phase::Left)];

impl Phase {
    /// `before`, `found`, `done` or `left`.
    pub fn word(self) -> &'static str {
        word_of(&PHASES, &self)
    }

    /// Every phase, in their order.
    pub fn all() -> impl Iterator<Item = Phase> {
        PHASES.iter().map(|(_, phase)| *phase)
    }

    /// The phase that word stands for.
    pub fn named(word: &str) -> Option<Phase> {
        named(&PHASES, word)
    }
}

/// Every provenance with its word.
const PROVENANCES: [(&str, Provenance); 5] = [
    ("measured", Provenance::Measured),
    ("chosen", Provenance::Chosen),
    ("told", Provenance::SystemFile),
    ("recalled", Provenance::Recalled),
    ("assumed", Provenance::Assumed),
];

impl Provenance {
    /// `measured`, `chosen`, `told`, `recalled` or `assumed`.
    pub fn word(self) -> &'static str {
        word_of(&PROVENANCES, &self)
    }

    /// Every provenance, the most trusted first.
    pub fn all() -> impl Iterator<Item = Provenance> {
        PROVENANCES.iter().map(|(_, provenance)| *provenance)
    }

    /// The provenance that word stands for.
    pub fn named(word: &str) -> Option<Provenance> {
        named(&PROVENANCES, word)
    }
}

impl TextRole {
    /// Every role.
    pub(crate) const ALL: [TextRole; 5] =
        [TextRole::Procedure, TextRole::OwnProcedure, TextRole::Part, TextRole::OwnPart, TextRole::System];

    /// Whether it is the procedure that was performed, whosoever.
    pub(crate) fn is_procedure(self) -> bool {
        matches!(self, TextRole::Procedure | TextRole::OwnProcedure)
    }

    /// `procedure`, `own-procedure`, `part`, `own-part` or `system`.
    pub fn word(self) -> &'static str {
        match self {
            TextRole::Procedure => "procedure",
            TextRole::OwnProcedure => "own-procedure",
            TextRole::Part => "part",
            TextRole::OwnPart => "own-part",
            TextRole::System => "system",
        }
    }

    /// The role that word stands for.
    pub fn named(word: &str) -> Option<TextRole> {
        TextRole::ALL.into_iter().find(|role| role.word() == word)
    }
}

impl Outcome {
    /// `completed`, `failed` or `unfinished`.
    pub fn word(self) -> &'static str {
        match self {
            Outcome::Completed => "completed",
            Outcome::Failed => "failed",
            Outcome::Unfinished => "unfinished",
        }
    }

    /// The outcome that word stands for.
    pub fn named(word: &str) -> Option<Outcome> {
        let all = [Outcome::Completed, Outcome::Failed, Outcome::Unfinished];
        all.into_iter().find(|outcome| outcome.word() == word)
    }
}

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
