//! `repeat`: steps that come round until something holds, with a bound.

use crate::procedure::check_steps::check_steps;
use crate::procedure::keys::{Key, SAY, STEPS, Takes, key, names};
use crate::procedure::limits::MOST_ROUNDS;
use crate::procedure::model::flat;
use crate::procedure::paper::{Paper, PaperLine, Said, Slot, may_say, written};
use crate::procedure::step::{Action, Course, LoopKind, Repeat, Step};
use crate::procedure::verb::{DraftAction, Verb};
use crate::words::counted;

/// What the rounds go by.
const BOUNDS: &[Key] = &[
    key("until", Takes::Expression, "what must hold for the rounds to end").needed(),
    key("at_most", Takes::Whole(1, MOST_ROUNDS), "how many rounds there are at most").needed(),
    key("at_least", Takes::Whole(0, MOST_ROUNDS), "how many there are at least, 1 without it"),
];

pub(super) const VERB: Verb = Verb {
    key: key("repeat", Takes::Table(BOUNDS), "until what holds the steps come round, and how often at most"),
    sentence: "steps that come round until something holds, at most so often",
    keys: &[SAY, STEPS],
    answered: false,
    draft: |fields, drafting| {
        let bounds = fields.table("repeat")?;
        bounds.only(&names(BOUNDS));
        if !bounds.has("until") {
            bounds.missing("until", "what must hold for the rounds to end");
        }
        let until = drafting.expr(&bounds, "until");
        if !bounds.has("at_most") {
            let fault = bounds.fault("no-bound", bounds.span, "this loop has no bound");
            let remedy = "add `at_most = …`, the most rounds that make sense";
            let why = "Someone stands in the pump house until it ends.";
            bounds.walk().fault(fault.why(why).remedy(remedy));
        }
        let at_least = bounds.whole("at_least", 0..=MOST_ROUNDS).unwrap_or(1);
        let at_most = bounds.whole("at_most", 1..=MOST_ROUNDS);
        let say = drafting.text(fields, "say");
        DraftAction::checked_by(move |step, checking| {
            let before = checking.known();
            // With no round at all nothing inside is answered, so `until` may only look outside.
            let early = until.as_ref().filter(|_| at_least == 0).map(|until| checking.yes_no(until));
            checking.enter(LoopKind::Repeat);
            let body = check_steps(&step.body, checking);
            let until = early.unwrap_or_else(|| checking.yes_no(until.as_ref()?));
            let say = checking.optional_text(&say);
            checking.leave(before);
            let at_most = at_most?;
            // There a run waits for a person, or ends.
            let waits = |step: &Step| step.course().asks().is_some() || step.course().stops();
            if !flat(&body).any(waits) {
                let why =
                    "Nothing changes from round to round, so that they would only go on to their bound.";
                let fault = step.fault("asks-nothing", "these rounds ask nothing").why(why);
                let remedy = "put what is done or read again into the loop, or take the loop out";
                checking.fault(fault.remedy(remedy));
            }
            Some(Repeat { until: until?, at_least: at_least.min(at_most), at_most, say, body })
        })
    },
};

impl Action for Repeat {
    fn course(&self) -> Course<'_> {
        Course::Repeat(self)
    }

    fn outline(&self, _: &Step) -> Vec<Said> {
        let most = counted(self.at_most as usize, "time");
        let bounds = match self.at_least {
            0 | 1 => format!("at most {most}"),
            least => format!("{least} to {most}"),
        };
        let until = format!("{}, {bounds}", written(&self.until));
        vec![("Repeat until", Some(until)), may_say("Told after each", &self.say)]
    }

    fn on_paper(&self, _: &Step, paper: &mut dyn Paper) -> Option<PaperLine> {
        let until = paper.condition(&self.until).map(|until| format!(" until {until}")).unwrap_or_default();
        let text = format!("Up to {} rounds{until}.", self.at_most);
        Some(PaperLine::new(text, Slot::Nothing))
    }
}
