//! `do`: something to do, acknowledged by the person.

use crate::lang::Template;
use crate::procedure::answers::done;
use crate::procedure::draft_otherwise;
use crate::procedure::keys::{NOT_SO, SEE, Takes, key};
use crate::procedure::otherwise::Otherwise;
use crate::procedure::paper::{Paper, PaperLine, Said, Slot, may_say, said};
use crate::procedure::question::{Accepted, Answer, AnswerKind, AtHand, Refusal};
use crate::procedure::shown::Shown;
use crate::procedure::step::{Action, Asks, Course, Gives, Step};
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
    /// The condition that is to be seen, and typed.
    status: Option<String>,
    /// What follows when it is not so.
    otherwise: Option<Otherwise>,
}

pub(super) const VERB: Verb = Verb {
    key: key("do", Takes::Template, "what to do; Enter says it is done"),
    sentence: "something to do; the run goes on when the person says it is done",
    keys: &[
        SEE,
        key("minutes", Takes::Whole(1, 1_440), "about how long it takes"),
        key(
            "status",
            Takes::Text,
            "the condition to be seen, which is typed in place of Enter: off, open, shut",
        ),
        NOT_SO,
    ],
    answered: true,
    draft: |fields, drafting| {
        let text = drafting.text(fields, "do")?;
        let see = drafting.text(fields, "see");
        let minutes = fields.whole("minutes", 1..=1_440);
        let status = fields.text("status").map(|status| status.text);
        let not_so = draft_otherwise::draft(fields, drafting, ("not_so", "no"));
        DraftAction::checked_by(move |_, checking| {
            let otherwise = not_so.as_ref().and_then(|not_so| not_so(checking));
            let see = checking.optional_text(&see);
            let status = status.clone();
            Some(Do { text: checking.text(&text)?, see, minutes, status, otherwise })
        })
    },
};

impl Asks for Do {
    fn shows(&self) -> Shown<'_> {
        let (see, otherwise) = (self.see.as_ref(), self.otherwise.as_ref());
        Shown { see, otherwise, status: self.status.as_deref(), ..Shown::asking(&self.text) }
    }

    fn expects(&self, _: &dyn AtHand) -> AnswerKind {
        AnswerKind::Done(self.status.clone())
    }

    fn take(&self, answer: &Answer<'_>, _: &dyn AtHand) -> Result<Accepted, Refusal> {
        done(answer.typed, self.status.as_deref())
    }

    fn gives(&self) -> Option<Gives> {
        None
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
            ("To be typed", self.status.clone()),
            may_say("If not so", &self.otherwise.as_ref().map(|it| it.says.clone())),
            ("Takes about", self.minutes.map(|minutes| format!("{minutes} min"))),
        ]
    }

    fn on_paper(&self, _: &Step, paper: &mut dyn Paper) -> Option<PaperLine> {
        Some(self.shows().on_paper(Slot::Tick, paper))
    }
}
