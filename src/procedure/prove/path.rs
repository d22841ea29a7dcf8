//! The walk: every step once, in the order of the file, with what is certain there.

use std::sync::Arc;

use super::conditions::Guard;
use super::examine::Examined;
use super::names::{Answered, NameFacts};
use super::prover::Prover;
use super::words::unreachable;
use crate::lang::Template;
use crate::procedure::no_value::NoValue;
use crate::procedure::shown::Use;
use crate::procedure::step::{Asks, Check, Compute, Conclude, Course, Step, time_of};

impl Prover<'_> {
    /// Walks steps; `true` when the run certainly ends among them.
    pub(super) fn block(&mut self, steps: &[Step]) -> bool {
        let mut rest = steps;
        while let Some((step, after)) = rest.split_first() {
            let ends = match &step.part {
                Some(placed) => {
                    rest = rest.get(placed.steps..).unwrap_or_default();
                    self.placed(placed)
                }
                None => {
                    rest = after;
                    self.step(step)
                }
            };
            if ends {
                if let Some(next) = rest.first() {
                    self.fault(unreachable(step, next));
                }
                return true;
            }
        }
        false
    }

    /// Walks a step; `true` when the run certainly ends with it.
    fn step(&mut self, step: &Step) -> bool {
        let mark = self.context.mark();
        let asked = step.when.as_ref().map(|when| {
            let found = self.look(when, Use::When);
            let unanswered: Vec<&str> = found.unanswered().collect();
            let in_vain = found.missing.iter().filter(|it| unanswered.contains(&it.name.as_str()));
            self.ask(when.expr());
            in_vain.for_each(|missing| self.never_known(when, missing));
            unanswered.iter().for_each(|name| self.ask_known(name));
            found.proves.if_true.iter().for_each(|name| self.assume_known(name));
            // Where it does not hold because nobody was asked, nothing else follows.
            unanswered.is_empty().then_some(found.proves.if_false)
        });
        let by_itself = self.asks_by_itself(step);
        self.texts(step.title.iter().chain(&step.why).chain(&step.how).chain(&step.repeated));
        self.needs(step);
        self.hazards(step);
        self.evidence(step);
        self.finding(step);
        let ends = self.course(step);
        let (Some(when), Some(known_otherwise)) = (&step.when, asked) else {
            if by_itself {
                self.context.back_to(mark);
            }
            return ends;
        };
        self.context.back_to(mark);
        if let (true, Some(known_otherwise)) = (ends, known_otherwise) {
            self.assume(when.expr(), false);
            known_otherwise.iter().for_each(|name| self.assume_known(name));
        }
        false
    }

    /// Walks what a run does at a step; `true` when it certainly ends there.
    fn course(&mut self, step: &Step) -> bool {
        match step.course() {
            Course::Ask(asks) => self.asked(step, asks),
            Course::Compute(compute) => self.compute(step, compute),
            Course::State(_) => {
                self.shown_texts(step);
                self.done(step);
            }
            Course::Check(check) => self.check(step, check),
            Course::Conclude(conclude) => self.conclude(step, conclude),
            Course::Diagnose(_) => self.done(step),
            Course::Repeat(repeat) => return self.repeat(step, repeat),
            Course::Each(each) => return self.each(step, each),
            Course::Stop(_) => {
                self.shown_texts(step);
                return true;
            }
        }
        false
    }

    fn asked(&mut self, step: &Step, asks: &dyn Asks) {
        let shown = asks.shows();
        self.shown_texts(step);
        for (expr, used) in shown.looks_at {
            self.look(expr, used);
        }
        if let Some(gives) = asks.gives() {
            if gives.timed {
                self.answer(step, time_of(&step.id).into(), None);
            }
            self.answer(step, step.id.clone(), None);
        }
        self.asked_for(step);
    }

    fn compute(&mut self, step: &Step, compute: &Compute) {
        let found = self.look(&compute.expr, Use::Value);
        self.answer(step, step.id.clone(), limit_of(&found));
        self.shown_texts(step);
        self.done(step);
    }

    fn conclude(&mut self, step: &Step, conclude: &Conclude) {
        self.shown_texts(step);
        if let Some(again) = &conclude.again {
            self.look(again, Use::Value);
        }
        for (name, place) in &conclude.rests_on {
            self.rests_on(name, place);
        }
        self.done(step);
    }

    fn check(&mut self, step: &Step, check: &Check) {
        let found = self.look(&check.expr, Use::Value);
        self.answer(step, step.id.clone(), limit_of(&found));
        if let Some(over) = &check.over {
            self.look(over, Use::Value);
        }
        self.shown_texts(step);
        if check.must {
            self.passed(check.expr.expr());
            self.done(step);
        } else {
            self.done_unless_failed(step, check.expr.expr());
        }
    }

    /// Notes that a step answers a name, where the walk stands.
    fn answer(&mut self, step: &Step, name: Arc<str>, limit: Option<NoValue>) {
        let guard = self.context.guard();
        let answered = if step.skip { Answered::UnlessSkipped } else { Answered::When(guard.clone()) };
        // In a `repeat` a value may be left from an earlier round, in which other things held.
        let implies = if self.repeats == 0 { guard } else { Guard::new() };
        let place = Some(step.place());
        self.names.answer(name, NameFacts { version: 0, answered, implies, limit, place });
    }

    /// Looks at the holes of all that is told in a step's course.
    pub(super) fn shown_texts(&mut self, step: &Step) {
        self.texts(step.course().mentions().texts);
    }

    /// Looks at the holes of texts.
    fn texts<'t>(&mut self, texts: impl IntoIterator<Item = &'t Template>) {
        for hole in texts.into_iter().flat_map(Template::holes) {
            self.look(hole, Use::Text);
        }
    }
}

fn limit_of(found: &Examined) -> Option<NoValue> {
    found.maybe_undefined.iter().map(|undefined| undefined.limit.clone()).reduce(NoValue::and)
}
