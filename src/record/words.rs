//! The words that stand in a record for kinds, outcomes and the roles of texts.

use super::{EntryKind, Grade, Outcome, Phase, Provenance, TextRole};
use crate::quantity::Verdict;

/// Every kind of entry with its word.
const KINDS: [(EntryKind, &str); 19] = [
    (EntryKind::Fact, "fact"),
    (EntryKind::Done, "done"),
    (EntryKind::Reading, "reading"),
    (EntryKind::Choice, "choice"),
    (EntryKind::Text, "text"),
    (EntryKind::Computed, "computed"),
    (EntryKind::Checked, "checked"),
    (EntryKind::WaitBegun, "wait-begun"),
    (EntryKind::Waited, "waited"),
    (EntryKind::Skipped, "skipped"),
    (EntryKind::Withdrawn, "withdrawn"),
    (EntryKind::Note, "note"),
    (EntryKind::Paused, "paused"),
    (EntryKind::Resumed, "resumed"),
    (EntryKind::Stopped, "stopped"),
    (EntryKind::Message, "message"),
    (EntryKind::Finding, "finding"),
    (EntryKind::NotSo, "not-so"),
    (EntryKind::Understood, "understood"),
];

/// The first member of a table whose word this is.
fn named<T: Copy>(table: &[(T, &str)], word: &str) -> Option<T> {
    table.iter().find(|(_, w)| *w == word).map(|(t, _)| *t)
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
        KINDS.iter().find(|(kind, _)| *kind == self).map_or("note", |(_, word)| word)
    }

    /// The kind that word stands for; `None` when this version knows none.
    pub fn named(word: &str) -> Option<EntryKind> {
        named(&KINDS, word)
    }

    /// Every kind, in the order of the documentation.
    pub fn all() -> impl Iterator<Item = EntryKind> {
        KINDS.iter().map(|(kind, _)| *kind)
    }
}

/// Every grade of a finding with its word.
const GRADES: [(Grade, &str); 5] = [
    (Grade::Good, "good"),
    (Grade::Note, "note"),
    (Grade::Attention, "attention"),
    (Grade::Act, "act"),
    (Grade::Stop, "stop"),
];

/// The words of the grades of findings, the worst last.
pub const GRADE_WORDS: [&str; 5] = ["good", "note", "attention", "act", "stop"];

impl Grade {
    /// `good`, `note`, `attention`, `act` or `stop`.
    pub fn word(self) -> &'static str {
        GRADES.iter().find(|(grade, _)| *grade == self).map_or("note", |(_, word)| word)
    }

    /// The grade that word stands for.
    pub fn named(word: &str) -> Option<Grade> {
        named(&GRADES, word)
    }
}

/// Every phase with its word.
const PHASES: [(Phase, &str); 4] =
    [(Phase::Before, "before"), (Phase::Found, "found"), (Phase::Done, "done"), (Phase::Left, "left")];

impl Phase {
    /// `before`, `found`, `done` or `left`.
    pub fn word(self) -> &'static str {
        PHASES.iter().find(|(phase, _)| *phase == self).map_or("done", |(_, word)| word)
    }

    /// Every phase, in their order.
    pub fn all() -> impl Iterator<Item = Phase> {
        PHASES.iter().map(|(phase, _)| *phase)
    }

    /// The phase that word stands for.
    pub fn named(word: &str) -> Option<Phase> {
        named(&PHASES, word)
    }
}

/// Every provenance with its word.
const PROVENANCES: [(Provenance, &str); 5] = [
    (Provenance::Measured, "measured"),
    (Provenance::Chosen, "chosen"),
    (Provenance::SystemFile, "told"),
    (Provenance::Recalled, "recalled"),
    (Provenance::Assumed, "assumed"),
];

impl Provenance {
    /// `measured`, `chosen`, `told`, `recalled` or `assumed`.
    pub fn word(self) -> &'static str {
        PROVENANCES.iter().find(|(provenance, _)| *provenance == self).map_or("assumed", |(_, word)| word)
    }

    /// Every provenance, the most trusted first.
    pub fn all() -> impl Iterator<Item = Provenance> {
        PROVENANCES.iter().map(|(provenance, _)| *provenance)
    }

    /// The provenance that word stands for.
    pub fn named(word: &str) -> Option<Provenance> {
        named(&PROVENANCES, word)
    }
}

impl TextRole {
    /// `procedure`, `part`, `own-part` or `system`.
    pub fn word(self) -> &'static str {
        match self {
            TextRole::Procedure => "procedure",
            TextRole::Part => "part",
            TextRole::OwnPart => "own-part",
            TextRole::System => "system",
        }
    }

    /// The role that word stands for.
    pub fn named(word: &str) -> Option<TextRole> {
        let all = [TextRole::Procedure, TextRole::Part, TextRole::OwnPart, TextRole::System];
        all.into_iter().find(|role| role.word() == word)
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
        for word in ["procedure", "part", "system"] {
            assert_eq!(TextRole::named(word).map(TextRole::word), Some(word));
        }
        for word in ["completed", "failed", "unfinished"] {
            assert_eq!(Outcome::named(word).map(Outcome::word), Some(word));
        }
        for (word, (grade, _)) in GRADE_WORDS.iter().zip(GRADES) {
            assert_eq!((Grade::named(word), grade.word()), (Some(grade), *word));
        }
        for (phase, word) in PHASES {
            assert_eq!((Phase::named(word), phase.word()), (Some(phase), word));
        }
        for (provenance, word) in PROVENANCES {
            assert_eq!((Provenance::named(word), provenance.word()), (Some(provenance), word));
        }
        for word in ["pass", "fail", "can't tell"] {
            assert_eq!(verdict(word).map(Verdict::word), Some(word));
        }
        assert_eq!(EntryKind::named("Fact"), None);
        assert_eq!(verdict("perhaps"), None);
    }
}
