//! What a step puts to a person: said once, for the question, the worksheet and the proofs.

use super::otherwise::Otherwise;
use super::paper::{Paper, PaperLine, Slot};
use crate::lang::{CheckedExpr, Template};

/// What a person reads at a step, and what it rests on. The question, its line on paper and its
/// proof are made from this, so that nothing is put to a person that was not proven.
#[derive(Debug, Default)]
pub struct Shown<'a> {
    /// The question or the instruction; a wait may go without.
    pub text: Option<&'a Template>,
    /// What shows that it went right.
    pub see: Option<&'a Template>,
    /// The condition to be seen, which is typed.
    pub status: Option<&'a str>,
    /// What follows when it is not so.
    pub otherwise: Option<&'a Otherwise>,
    /// Where this holds it is asked only if an earlier record tells of it.
    pub if_recorded: Option<&'a CheckedExpr>,
    /// Labels and help of the words to choose from.
    pub words: Vec<&'a Template>,
    /// Every expression it looks at beside, and what for.
    pub looks_at: Vec<(&'a CheckedExpr, Use)>,
}

impl<'a> Shown<'a> {
    /// A text and no more.
    pub fn asking(text: &'a Template) -> Shown<'a> {
        Shown { text: Some(text), ..Shown::default() }
    }

    /// Every text.
    pub fn texts(&self) -> impl Iterator<Item = &'a Template> {
        let single = [self.text, self.see, self.otherwise.map(|it| &it.says)];
        single.into_iter().flatten().chain(self.words.iter().copied())
    }

    /// Its line on a worksheet, with what is filled in.
    pub fn on_paper(&self, slot: Slot, paper: &dyn Paper) -> PaperLine {
        let see = self.see.map(|see| format!("Check: {}", paper.text(see)));
        let otherwise = self.otherwise.filter(|it| it.stops).map(|it| {
            let word = it.label.as_deref().unwrap_or(if it.word == "no" { "it is not so" } else { it.word });
            format!("STOP if {word}: {}", paper.text(&it.says))
        });
        let text = self.text.map(|text| paper.text(text)).unwrap_or_default();
        PaperLine { text, notes: see.into_iter().chain(otherwise).collect(), slot }
    }
}

/// What an expression is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// Whether a step is called for.
    When,
    /// Whether a loop ends.
    Until,
    /// How long a wait is.
    Wait,
    /// A hole in a text.
    Text,
    /// A value to work out, to compare or to set as a limit.
    Value,
}
