//! What to do for now about a tank whose diagnosis stays open: a decision beside the verdict, and no pass.

/// What to do for now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ForNow {
    /// Accept the tank until the next yearly look.
    Accept,
    /// Leave it as it is, and look again.
    Leave,
    /// Set the precharge, and look again.
    Set,
    /// See to the tank: the next test first.
    SeeTo,
}

/// Each with its word in a record, and what a person is told.
const ANSWERS: [(&str, ForNow, &str); 4] = [
    ("accept", ForNow::Accept, "For now accept the tank as it is; that does not prove it in order."),
    ("leave", ForNow::Leave, "For now leave the tank as it is."),
    ("set", ForNow::Set, "For now set the precharge."),
    ("see-to", ForNow::SeeTo, "For now see to the tank: the next test first."),
];

impl ForNow {
    /// Each, in the order of the documentation.
    pub fn all() -> impl Iterator<Item = ForNow> {
        ANSWERS.iter().map(|(_, answer, _)| *answer)
    }

    /// The word that stands for it in a record.
    ///
    /// ```
    /// use tankhand::record::ForNow;
    /// assert_eq!(ForNow::SeeTo.word(), "see-to");
    /// assert_eq!(ForNow::named("see-to"), Some(ForNow::SeeTo));
    /// ```
    pub fn word(self) -> &'static str {
        ANSWERS[self as usize].0
    }

    /// The answer that word stands for; `None` when this version knows none.
    pub fn named(word: &str) -> Option<ForNow> {
        ANSWERS.iter().find(|(known, ..)| *known == word).map(|(_, answer, _)| *answer)
    }

    /// What a person is told, as a sentence.
    pub fn says(self) -> &'static str {
        ANSWERS[self as usize].2
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_stands_in_the_order_of_the_answers() {
        for (word, answer, says) in ANSWERS {
            assert_eq!((answer.word(), answer.says(), ForNow::named(word)), (word, says, Some(answer)));
        }
        assert_eq!(ForNow::named("wait"), None);
    }
}
