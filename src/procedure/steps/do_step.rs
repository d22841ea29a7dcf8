//! `do`: something to do, acknowledged by the person.

use crate::lang::Template;
use crate::procedure::answers::done;
use crate::procedure::keys::{Takes, key};
use crate::procedure::paper::{Paper, PaperLine, Said, Slot, may_say, said};
use crate::procedure::question::{Accepted, Answer, AnswerKind, AtHand, Question, Refusal};
use crate::procedure::step::{Action, Asks, Course, Gives, Shown, Step};
use crate::procedure::verb::{DraftAction, Verb};
use crate::record::{Entry, EntryKind};

/// Something to do.
#[derive(Debug)]
struct Do {
    /// What to do.
    text: Template,
    /// What shows that it went right.
    see: Option<Template>,
    /// About how long it takes.
    minutes: Option<u32>,
}

pub(super) const VERB: Verb = Verb {
    key: key("do", Takes::Template, "what to do; Enter says it is done"),
    sentence: "something to do; the run goes on when the person says it is done",
    keys: &[
        key("see", Takes::Template, "what shows that it went right"),
        key("minutes", Takes::Whole(1, 1_440), "about how long it takes"),
    ],
    answered: true,
    draft: |fields, drafting| {
        let text = drafting.text(fields, "do")?;
        let see = drafting.text(fields, "see");
        let minutes = fields.whole("minutes", 1..=1_440);
        DraftAction::checked_by(move |_, checking| {
            let see = checking.optional_text(&see);
            Some(Do { text: checking.text(&text)?, see, minutes })
        })
    },
};

impl Asks for Do {
    fn question(&self, at_hand: &dyn AtHand) -> Question {
        let fill = |text: &Template| at_hand.filled(text);
        Question { see: self.see.as_ref().map(fill), ..Question::new(fill(&self.text), AnswerKind::Done) }
    }

    fn take(&self, answer: &Answer<'_>, _: &dyn AtHand) -> Result<Accepted, Refusal> {
        done(answer.typed)
    }

    fn gives(&self) -> Option<Gives<'_>> {
        None
    }

    fn shows(&self) -> Shown<'_> {
        let texts = std::iter::once(&self.text).chain(&self.see).collect();
        Shown { texts, looks_at: Vec::new() }
    }

    fn message(&self, answer: &Entry) -> Option<String> {
        (answer.kind == EntryKind::Done).then(|| format!("done {}", answer.at.time_of_day()))
    }
}

impl Action for Do {
    fn course(&self) -> Course<'_> {
        Course::Ask(self)
    }

    fn outline(&self, _: &Step) -> Vec<Said> {
        vec![
            said("", &self.text),
            may_say("See", &self.see),
            ("Takes about", self.minutes.map(|minutes| format!("{minutes} min"))),
        ]
    }

    fn on_paper(&self, _: &Step, paper: &mut dyn Paper) -> Option<PaperLine> {
        let notes = paper.may(&self.see).into_iter().collect();
        let line = PaperLine::new(paper.text(&self.text), Slot::Tick);
        Some(PaperLine { notes, ..line })
    }
}
