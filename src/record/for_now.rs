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
pub(super) const ANSWERS: [(&str, ForNow, &str); 4] = [
    ("accept", ForNow::Accept, "For now accept the tank as it is; that does not prove it in order."),
    ("leave", ForNow::Leave, "For now leave the tank as it is."),
    ("set", ForNow::Set, "For now set the precharge."),
    ("see-to", ForNow::SeeTo, "For now see to the tank: the next test first."),
];

impl ForNow {
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
