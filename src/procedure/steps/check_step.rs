//! `check`: a comparison that yields pass, fail or can't tell.

use crate::lang::Value;
use crate::procedure::keys::{Takes, UNSURE, key};
use crate::procedure::paper::{Paper, PaperLine, Said, Slot, may_say, written};
use crate::procedure::step::{Action, Check, Course, Step};
use crate::procedure::verb::{DraftAction, Verb};
use crate::quantity::{Kind, Measure, Truth};

pub(super) const VERB: Verb = Verb {
    key: key("check", Takes::Expression, "what should hold: a yes or no"),
    sentence: "a comparison that yields pass, fail or can't tell",
    keys: &[
        key("must", Takes::Flag, "whether the work stops when it fails"),
        key("pass", Takes::Template, "what is told when it holds"),
        key("fail", Takes::Template, "what is told when it does not"),
        UNSURE,
        key(
            "over",
            Takes::Expression,
            "the time over which that came about which is compared, in proportion to it: a longer one would tell more",
        ),
    ],
    answered: false,
    draft: |fields, drafting| {
        let expr = drafting.expr(fields, "check")?;
        let must = fields.flag("must");
        let texts = ["pass", "fail", "unsure"].map(|key| drafting.text(fields, key));
        let over = drafting.expr(fields, "over");
        DraftAction::checked_by(move |step, checking| {
            let expr = checking.yes_no(&expr);
            let [pass, fail, unsure] = texts.each_ref().map(|text| checking.optional_text(text));
            let duration = Kind::Measure(Measure::Duration);
            let over = over.as_ref().and_then(|over| checking.expr(over, Some(&duration)));
            step.define(checking, &Kind::YesNo);
            Some(Check { expr: expr?, must, pass, fail, unsure, over })
        })
    },
};

impl Action for Check {
    fn course(&self) -> Course<'_> {
        Course::Check(self)
    }

    fn outline(&self, _: &Step) -> Vec<Said> {
        vec![
            (if self.must { "Check, or stop" } else { "Check" }, Some(written(&self.expr))),
            may_say("Pass", &self.pass),
            may_say("Fail", &self.fail),
            may_say("Can't tell", &self.unsure),
        ]
    }

    fn on_paper(&self, step: &Step, paper: &mut dyn Paper) -> Option<PaperLine> {
        if let Some(holds) = paper.holds(&self.expr).filter(|_| !paper.may_be_left_out()) {
            paper.determine(&step.id, Value::Truth(Truth::certain(holds)));
            let failed = paper.may(&self.fail).filter(|_| !holds)?;
            return Some(PaperLine::new(failed, Slot::Nothing));
        }
        let failed = paper.may(&self.fail).filter(|_| self.must)?;
        let text = match paper.condition(&self.expr) {
            Some(condition) => format!("STOP unless {condition}. {failed}"),
            None => format!("STOP if so: {failed}"),
        };
        Some(PaperLine::new(text, Slot::Nothing))
    }
}
