//! What follows when it is not as a step says: a thing does not go as described, or a machine does
//! not do what is to be read.

use std::sync::Arc;

use super::question::{Accepted, AtHand};
use crate::lang::Template;
use crate::record::EntryKind;

/// What follows when it is not so.
#[derive(Clone, Debug)]
pub struct Otherwise {
    /// What a person types: `no`, `never`.
    pub word: &'static str,
    /// What the word means, in a few words.
    pub label: Option<String>,
    /// What the person is told, and does.
    pub says: Template,
    /// Whether the work ends then; else the step is asked again.
    pub stops: bool,
    /// What was found then, in a few words.
    pub finding: Option<String>,
    /// The states that what is told to be done brings about, and those it ends, where the work ends.
    pub leaves: StatesLeft,
}

/// How things are left by what somebody is told to do at the end of the work.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct StatesLeft {
    /// States that hold then.
    pub brings: Vec<Arc<str>>,
    /// States that no longer hold.
    pub undoes: Vec<Arc<str>>,
}

impl Otherwise {
    /// The answer that says so, when that was typed.
    pub fn take(&self, typed: &str, at_hand: &dyn AtHand) -> Option<Accepted> {
        let said = Some(at_hand.filled(&self.says));
        typed
            .eq_ignore_ascii_case(self.word)
            .then(|| Accepted { said, ..Accepted::words(EntryKind::NotSo, self.word) })
    }
}
