//! `conclude`: a finding, with what it rests on and what to do next.

use std::sync::Arc;

use crate::document::unknown_fault;
use crate::lang::Scope;
use crate::procedure::checking::Checking;
use crate::procedure::keys::{TEXTS, Takes, key, words};
use crate::procedure::paper::{Paper, PaperLine, Said, may_say, said, written};
use crate::procedure::step::{Action, Conclude, Course, Step};
use crate::procedure::verb::{DraftAction, Verb};
use crate::quantity::{Kind, Measure};
use crate::record::{GRADE_WORDS, GRADES, Grade};
use crate::source::Quoted;

pub(super) const VERB: Verb = Verb {
    key: words("conclude", Takes::Text, "what was found, in a few words, such as \"precharge low\""),
    sentence: "a finding: what was found, how it weighs, what it rests on, what to do next",
    keys: &[
        key("grade", Takes::OneOf(&GRADE_WORDS), "how the finding weighs; the run ends in the worst"),
        key("says", Takes::Template, "the finding in a sentence"),
        key("next", Takes::Template, "what to do next about it"),
        key("again", Takes::Expression, "how long until it should be looked at again"),
        key("rests_on", TEXTS, "the steps it rests on; a good finding must rest on some"),
    ],
    answered: false,
    draft: |fields, drafting| {
        let name = fields.text("conclude")?;
        let grade = fields.needed_text("grade", "how the finding weighs: good, note, attention, act or stop");
        let says = drafting.needed_text(fields, "says", "the finding in a sentence");
        let next = drafting.text(fields, "next");
        let again = drafting.expr(fields, "again");
        let rests_on = fields.texts("rests_on");
        DraftAction::checked_by(move |step, checking| {
            let grade = checking.one_of(grade.as_ref()?, &GRADES, ("unknown-word", "is no grade"));
            let says = checking.optional_text(&says);
            let next = checking.optional_text(&next);
            let duration = Kind::Measure(Measure::Duration);
            let again = again.as_ref().and_then(|again| checking.expr(again, Some(&duration)));
            let rests_on = rests_on
                .iter()
                .filter_map(|name| tested(&checking.outside(name), checking))
                .collect::<Vec<_>>();
            let grade = grade?;
            if grade == Grade::Good && rests_on.is_empty() {
                let fault = step.fault("rests-on-nothing", "a good finding says on which steps it rests");
                let remedy = "add `rests_on = [\"…\"]`, the readings and checks that must have been made";
                checking.fault(fault.why("Nothing can be called good that was not tested.").remedy(remedy));
            }
            Some(Conclude { name: Arc::from(name.text.as_str()), grade, says: says?, next, again, rests_on })
        })
    },
};

/// A step that a finding rests on, when it is known.
fn tested(name: &Quoted, checking: &mut Checking<'_>) -> Option<(Arc<str>, Quoted)> {
    if checking.type_of(&name.text).is_some() || checking.is_lost(&name.text) {
        return Some((Arc::from(name.text.as_str()), name.clone()));
    }
    let message = format!("no step before this one answers `{}`", name.text.escape_debug());
    let known = checking.names();
    let fault = unknown_fault("unknown-name", name, message, known.iter().map(String::as_str));
    checking.none(fault.why("A finding rests on what was read, chosen or checked before it."))
}

impl Action for Conclude {
    fn course(&self) -> Course<'_> {
        Course::Conclude(self)
    }

    fn outline(&self, _: &Step) -> Vec<Said> {
        vec![
            ("Finding", Some(format!("{} ({})", self.name, self.grade.word()))),
            said("Told", &self.says),
            may_say("Next", &self.next),
            ("Again after", self.again.as_ref().map(written)),
        ]
    }

    fn on_paper(&self, _: &Step, _: &mut dyn Paper) -> Option<PaperLine> {
        None
    }
}
