//! How what a step asks is put, and how what is typed there is taken, whatever its verb.

use super::question::{Accepted, Answer, AtHand, Question, Refusal};
use super::shown::Shown;
use super::step::Asks;
use crate::lang::Template;

impl dyn Asks + '_ {
    /// What is put to the person.
    pub fn question(&self, at_hand: &dyn AtHand) -> Question {
        let Shown { text, see, otherwise, .. } = self.shows();
        let fill = |text: &Template| at_hand.filled(text);
        Question {
            text: text.map_or_else(|| "Wait.".to_string(), fill),
            see: see.map(fill),
            expects: self.expects(at_hand),
            usual: self.gives().and_then(|gives| at_hand.recalled(gives.recall?)),
            otherwise: otherwise.map(|it| (it.word, it.label.clone())),
        }
    }

    /// How an answer is taken, and that it is not so where that may be said.
    ///
    /// # Errors
    /// As [`Asks::take`].
    pub fn answered(&self, answer: &Answer<'_>, at_hand: &dyn AtHand) -> Result<Accepted, Refusal> {
        let not_so = self.shows().otherwise.and_then(|it| it.take(answer.typed, at_hand));
        not_so.map_or_else(|| self.take(answer, at_hand), Ok)
    }
}
