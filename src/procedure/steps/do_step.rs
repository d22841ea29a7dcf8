//! `do`: something to do, acknowledged by the person.

use crate::lang::Template;
use crate::procedure::answers::acknowledged;
use crate::procedure::keys::{Takes, key};
use crate::procedure::paper::{Paper, PaperLine, Said, Slot, may_say, said};
use crate::procedure::question::{ACKNOWLEDGE, Accepted, Answer, AnswerKind, AtHand, Refusal};
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
    /// The danger, which must be acknowledged in words.
    danger: Option<Template>,
    /// About how long it takes.
    minutes: Option<u32>,
}

pub(super) const VERB: Verb = Verb {
    key: key("do", Takes::Template, "what to do; Enter says it is done"),
    sentence: "something to do; the run goes on when the person says it is done",
    keys: &[
        key("see", Takes::Template, "what shows that it went right"),
        key("danger", Takes::Template, "the danger, which must be acknowledged with a typed word"),
        key("minutes", Takes::Whole(1, 1_440), "about how long it takes"),
    ],
    answered: true,
    draft: |fields, drafting| {
        let text = drafting.text(fields, "do")?;
        let [see, danger] = ["see", "danger"].map(|key| drafting.text(fields, key));
        let minutes = fields.whole("minutes", 1..=1_440);
        DraftAction::checked_by(move |_, checking| {
            let [see, danger] = [&see, &danger].map(|text| checking.optional_text(text));
            Some(Do { text: checking.text(&text)?, see, danger, minutes })
        })
    },
};

impl Do {
    /// The word by which it is acknowledged, when it has a danger.
    fn word(&self) -> Option<&'static str> {
        self.danger.is_some().then_some(ACKNOWLEDGE)
    }
}

impl Asks for Do {
    fn shows(&self) -> Shown<'_> {
        Shown { see: self.see.as_ref(), danger: self.danger.as_ref(), ..Shown::asking(&self.text) }
    }

    fn expects(&self, _: &dyn AtHand) -> AnswerKind {
        AnswerKind::Done(self.word())
    }

    fn take(&self, answer: &Answer<'_>, _: &dyn AtHand) -> Result<Accepted, Refusal> {
        acknowledged(answer.typed, self.word())
    }

    fn gives(&self) -> Option<Gives<'_>> {
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
            may_say("DANGER", &self.danger),
            said("", &self.text),
            may_say("See", &self.see),
            ("Takes about", self.minutes.map(|minutes| format!("{minutes} min"))),
        ]
    }

    fn on_paper(&self, _: &Step, paper: &mut dyn Paper) -> Option<PaperLine> {
        Some(self.shows().on_paper(Slot::Tick, paper))
    }
}
