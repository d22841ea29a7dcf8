//! `wait`: a time to wait, counted down.

use std::time::Duration;

use crate::lang::{CheckedExpr, Template, Value};
use crate::procedure::keys::{ASK, Takes, key};
use crate::procedure::limits::LONGEST_WAIT;
use crate::procedure::paper::{Paper, PaperLine, Said, Slot, may_say, written};
use crate::procedure::question::{Accepted, Answer, AnswerKind, AtHand, Refusal};
use crate::procedure::shown::{Shown, Use};
use crate::procedure::step::{Action, Asks, Course, Gives, Step};
use crate::procedure::verb::{DraftAction, Verb};
use crate::quantity::{Kind, Measure, Uncertain};
use crate::record::Entry;

/// A time to wait.
#[derive(Debug)]
struct Wait {
    /// How long.
    length: CheckedExpr,
    /// What to do meanwhile.
    ask: Option<Template>,
    /// It may be ended early.
    early: bool,
}

pub(super) const VERB: Verb = Verb {
    key: key("wait", Takes::Expression, "how long to wait, such as \"15 min\""),
    sentence: "a time to wait, counted down; its value is how long was waited",
    keys: &[ASK, key("early", Takes::Flag, "whether the wait may be ended early")],
    answered: false,
    draft: |fields, drafting| {
        let length = drafting.expr(fields, "wait")?;
        let ask = drafting.text(fields, "ask");
        let early = fields.flag("early");
        DraftAction::checked_by(move |step, checking| {
            let kind = Kind::Measure(Measure::Duration);
            let length = checking.expr(&length, Some(&kind));
            let ask = checking.optional_text(&ask);
            step.define(checking, &kind);
            Some(Wait { length: length?, ask, early })
        })
    },
};

impl Wait {
    /// How long; no time at all where that cannot be told.
    fn whole(&self, at_hand: &dyn AtHand) -> Duration {
        let length = self.length.value(at_hand.values()).ok();
        let seconds = length.as_ref().and_then(Value::amount).map_or(0.0, Uncertain::value);
        Duration::from_secs_f64(seconds.clamp(0.0, LONGEST_WAIT.as_secs_f64()))
    }
}

impl Asks for Wait {
    fn shows(&self) -> Shown<'_> {
        Shown { text: self.ask.as_ref(), looks_at: vec![(&self.length, Use::Wait)], ..Shown::default() }
    }

    fn expects(&self, at_hand: &dyn AtHand) -> AnswerKind {
        let whole = self.whole(at_hand);
        match at_hand.wait_begun() {
            None => AnswerKind::WaitBegins(whole),
            Some(begun) => AnswerKind::WaitOver { whole, begun, early: self.early },
        }
    }

    fn take(&self, _: &Answer<'_>, _: &dyn AtHand) -> Result<Accepted, Refusal> {
        Refusal::again("This is a wait; it is not answered with words.")
    }

    fn gives(&self) -> Option<Gives> {
        Some(Gives::one(Kind::Measure(Measure::Duration)))
    }

    fn message(&self, _: &Entry) -> Option<String> {
        None
    }
}

impl Action for Wait {
    fn course(&self) -> Course<'_> {
        Course::Ask(self)
    }

    fn outline(&self, _: &Step) -> Vec<Said> {
        vec![
            ("Wait", Some(written(&self.length))),
            may_say("Meanwhile", &self.ask),
            ("", self.early.then(|| "May end early.".to_string())),
        ]
    }

    fn on_paper(&self, _: &Step, paper: &mut dyn Paper) -> Option<PaperLine> {
        let length = paper.amount(&self.length).unwrap_or_else(|| "____".to_string());
        let line = self.shows().on_paper(Slot::Waited, paper);
        Some(PaperLine { text: format!("Wait {length}. {}", line.text).trim_end().to_string(), ..line })
    }
}
