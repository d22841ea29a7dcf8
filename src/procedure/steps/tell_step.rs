//! `tell`: something a person is told; no value, nothing to answer.

use crate::procedure::keys::{Takes, key};
use crate::procedure::paper::{Paper, PaperLine, Said, said};
use crate::procedure::step::{Action, Course, Statement, Step};
use crate::procedure::verb::{DraftAction, Verb};

pub(super) const VERB: Verb = Verb {
    key: key("tell", Takes::Template, "what the person is told"),
    sentence: "something to be told; it has no value and waits for nothing",
    keys: &[],
    answered: false,
    draft: |fields, drafting| {
        let text = drafting.text(fields, "tell")?;
        DraftAction::checked_by(move |_, checking| Some(Statement { text: checking.text(&text)? }))
    },
};

impl Action for Statement {
    fn course(&self) -> Course<'_> {
        Course::State(self)
    }

    fn outline(&self, _: &Step) -> Vec<Said> {
        vec![said("Told", &self.text)]
    }

    fn on_paper(&self, _: &Step, _: &mut dyn Paper) -> Option<PaperLine> {
        None
    }
}
