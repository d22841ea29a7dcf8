//! `tally`: how many of something there are. It stands in the table for tests only, and shows
//! what it takes to add a verb: this file and a line.

use crate::lang::Template;
use crate::procedure::answers::{Asked, number};
use crate::procedure::keys::{Key, Takes, key, names};
use crate::procedure::paper::{Paper, PaperLine, Said, Slot, said};
use crate::procedure::question::{Accepted, Answer, AnswerKind, AtHand, Refusal};
use crate::procedure::shown::Shown;
use crate::procedure::step::{Action, Asks, Course, Gives, Step};
use crate::procedure::verb::{DraftAction, Verb};
use crate::quantity::{Kind, Measure};
use crate::record::Entry;

/// Things to count.
#[derive(Debug)]
struct Tally {
    /// The question.
    ask: Template,
    /// More cannot be.
    most: u32,
}

/// What the count may be.
const LIMITS: &[Key] = &[key("most", Takes::Whole(1, 100), "more cannot be").needed()];

pub(super) const VERB: Verb = Verb {
    key: key("tally", Takes::Template, "what to count"),
    sentence: "how many of something there are",
    keys: &[key("limits", Takes::Table(LIMITS), "what the count may be")],
    answered: true,
    draft: |fields, drafting| {
        let ask = drafting.text(fields, "tally")?;
        let limits = fields.table("limits");
        limits.iter().for_each(|limits| limits.only(&names(LIMITS)));
        let most = limits.and_then(|limits| limits.whole("most", 1..=100)).unwrap_or(100);
        DraftAction::checked_by(move |step, checking| {
            step.define(checking, &Kind::Measure(Measure::Count));
            Some(Tally { ask: checking.text(&ask)?, most })
        })
    },
};

impl Asks for Tally {
    fn shows(&self) -> Shown<'_> {
        Shown::asking(&self.ask)
    }

    fn expects(&self, _: &dyn AtHand) -> AnswerKind {
        AnswerKind::Number(Measure::Count, None)
    }

    fn take(&self, answer: &Answer<'_>, at_hand: &dyn AtHand) -> Result<Accepted, Refusal> {
        let asked = Asked { measure: Measure::Count, unit: None, between: None, expect: None, gauge: None };
        let accepted = number(&asked, answer, at_hand)?;
        match &accepted.number {
            Some(number) if number.value > f64::from(self.most) => {
                Refusal::again(format!("There are {} at most.", self.most))
            }
            Some(_) | None => Ok(accepted),
        }
    }

    fn gives(&self) -> Option<Gives> {
        Some(Gives::one(Kind::Measure(Measure::Count)))
    }

    fn message(&self, _: &Entry) -> Option<String> {
        None
    }
}

impl Action for Tally {
    fn course(&self) -> Course<'_> {
        Course::Ask(self)
    }

    fn outline(&self, _: &Step) -> Vec<Said> {
        vec![said("Count", &self.ask), ("At most", Some(self.most.to_string()))]
    }

    fn on_paper(&self, _: &Step, paper: &mut dyn Paper) -> Option<PaperLine> {
        Some(self.shows().on_paper(Slot::Numbers(None, 1), paper))
    }
}
