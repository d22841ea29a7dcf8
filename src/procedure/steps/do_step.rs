//! `do`: something to do, acknowledged by the person.

use super::{DraftAction, Verb};
use crate::lang::{RawTemplate, Template};
use crate::procedure::checking::Checking;
use crate::source::Quoted;

/// Something to do.
#[derive(Clone, Debug)]
pub struct Do {
    /// What to do.
    pub text: Template,
    /// What shows that it went right.
    pub see: Option<Template>,
    /// The danger, which must be acknowledged in words.
    pub danger: Option<Template>,
    /// About how long it takes.
    pub minutes: Option<u32>,
}

#[derive(Clone, Debug)]
pub(in crate::procedure) struct Draft {
    text: RawTemplate,
    see: Option<RawTemplate>,
    danger: Option<RawTemplate>,
    minutes: Option<u32>,
}

pub(super) const VERB: Verb = Verb {
    word: "do",
    sentence: "something to do; the run goes on when the person says it is done",
    keys: &["see", "danger", "minutes"],
    draft: |fields, drafting, _| {
        Some(DraftAction::Do(Draft {
            text: drafting.text(fields, "do")?,
            see: drafting.text(fields, "see"),
            danger: drafting.text(fields, "danger"),
            minutes: fields.whole("minutes", 1..=1_440),
        }))
    },
};

impl Draft {
    /// Where its danger stands, when it has one.
    pub(super) fn danger(&self) -> Option<&Quoted> {
        self.danger.as_ref().map(|danger| &**danger.origin())
    }

    pub(super) fn check(&self, checking: &mut Checking<'_>) -> Option<Do> {
        let see = checking.optional_text(&self.see);
        let danger = checking.optional_text(&self.danger);
        Some(Do { text: checking.text(&self.text)?, see, danger, minutes: self.minutes })
    }
}
