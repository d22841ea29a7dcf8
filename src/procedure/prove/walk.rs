//! The walk: every step once, in the order of the file, with what is certain there.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::choices::choices;
use super::conditions::{Conditions, Guard};
use super::context::Context;
use super::examine::Examined;
use super::names::{Answered, Named, Names, Place};
use super::parts::{Entered, GIVEN};
use super::states::States;
use super::words::Use;
use crate::lang::Template;
use crate::procedure::model::{Limits, Procedure, Step};
use crate::procedure::steps::{Action, Check, Compute};
use crate::source::Fault;

/// The most faults told at once; a file with more has one cause for many.
const MOST_FAULTS: usize = 100;

pub(super) struct Walk<'p> {
    pub procedure: &'p Procedure,
    pub conditions: Conditions,
    pub context: Context,
    pub names: Names,
    pub states: States,
    /// For each state that is a hazard, the state of having acknowledged it.
    pub hazards: FxHashMap<Arc<str>, Arc<str>>,
    /// How many `repeat`s stand around.
    pub repeats: u32,
    /// What a part came with, when one is proven by itself.
    pub entered: Option<Entered>,
    /// Above zero while a loop is walked only for what it does to states.
    pub quiet: u32,
    faults: Vec<Fault>,
}

impl<'p> Walk<'p> {
    pub fn new(procedure: &'p Procedure) -> Walk<'p> {
        let mut names = Names::with_room(procedure.facts.len() + procedure.steps.len());
        procedure.facts.iter().for_each(|fact| names.fact(&fact.id));
        let hazards = procedure.states.iter().filter(|state| state.hazard);
        // No id holds a space, so no state of the file can be meant.
        let hazards = hazards.map(|state| (state.id.clone(), Arc::from(format!("danger of {}", state.id))));
        Walk {
            procedure,
            hazards: hazards.collect(),
            conditions: Conditions::new(choices(procedure)),
            context: Context::default(),
            names,
            states: States::default(),
            repeats: 0,
            entered: None,
            quiet: 0,
            faults: Vec::new(),
        }
    }

    pub fn into_faults(self) -> Vec<Fault> {
        self.faults
    }

    pub fn fault(&mut self, fault: Fault) {
        if self.quiet == 0 && self.faults.len() < MOST_FAULTS {
            self.faults.push(fault);
        }
    }

    /// Walks steps; `true` when the run certainly ends among them.
    pub fn block(&mut self, steps: &[Step]) -> bool {
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
                    self.fault(super::words::unreachable(step, next));
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
            self.ask(when.expr());
            found.proves.if_true.iter().for_each(|name| self.assume_known(name));
            found.proves.if_false
        });
        for text in [&step.title, &step.why, &step.how] {
            self.text(text.as_ref());
        }
        self.needs(step);
        self.hazards_met(step);
        let ends = self.action(step);
        let (Some(when), Some(known_otherwise)) = (&step.when, asked) else { return ends };
        self.context.back_to(mark);
        if ends {
            self.assume(when.expr(), false);
            known_otherwise.iter().for_each(|name| self.assume_known(name));
        }
        false
    }

    fn action(&mut self, step: &Step) -> bool {
        match &step.action {
            Action::Do(action) => {
                for text in [Some(&action.text), action.see.as_ref(), action.danger.as_ref()] {
                    self.text(text);
                }
            }
            Action::Read(read) => {
                self.text(Some(&read.ask));
                self.limits(read.between.as_ref());
                self.limits(read.expect.as_ref());
                if read.at_from_clock {
                    self.answer(step, format!("{}_at", step.id).into(), None);
                }
            }
            Action::Choose(choose) => {
                self.text(Some(&choose.ask));
                for choice in &choose.choices {
                    self.text(choice.label.as_ref());
                    self.text(choice.help.as_ref());
                }
            }
            Action::Write(write) => self.text(Some(&write.ask)),
            Action::Wait(wait) => {
                self.look(&wait.length, Use::Wait);
                self.text(wait.ask.as_ref());
            }
            Action::Compute(compute) => return self.compute(step, compute),
            Action::Check(check) => return self.check(step, check),
            Action::Repeat(repeat) => return self.repeat(step, repeat),
            Action::Each(each) => return self.each(step, each),
            Action::Stop(stop) => {
                self.text(Some(&stop.text));
                return true;
            }
        }
        if !matches!(step.action, Action::Do(_)) {
            self.answer(step, step.id.clone(), None);
        }
        self.asked_for(step);
        false
    }

    fn compute(&mut self, step: &Step, compute: &Compute) -> bool {
        let found = self.look(&compute.expr, Use::Value);
        self.answer(step, step.id.clone(), limit_of(&found));
        self.text(compute.say.as_ref());
        self.done(step);
        false
    }

    fn check(&mut self, step: &Step, check: &Check) -> bool {
        let found = self.look(&check.expr, Use::Value);
        self.answer(step, step.id.clone(), limit_of(&found));
        if let Some(over) = &check.over {
            self.look(over, Use::Value);
        }
        for text in [&check.pass, &check.fail, &check.unsure] {
            self.text(text.as_ref());
        }
        if check.must {
            self.passed(check.expr.expr());
            self.done(step);
        } else {
            self.done_unless_failed(step, check.expr.expr());
        }
        false
    }

    /// Notes that a step answers a name, where the walk stands.
    fn answer(&mut self, step: &Step, name: Arc<str>, limit: Option<Arc<str>>) {
        let guard = self.context.guard();
        let answered = if step.skip && super::effects::can_be_skipped(step) {
            Answered::UnlessSkipped
        } else {
            Answered::When(guard.clone())
        };
        // In a `repeat` a value may be left from an earlier round, in which other things held.
        let implies = if self.repeats == 0 { guard } else { Guard::new() };
        let place = Some(Place::of(step));
        self.names.answer(name, Named { version: 0, answered, implies, limit, place });
    }

    fn text(&mut self, text: Option<&Template>) {
        for hole in text.into_iter().flat_map(Template::holes) {
            self.look(hole, Use::Text);
        }
    }

    fn limits(&mut self, limits: Option<&Limits>) {
        for limit in limits.into_iter().flat_map(|limits| [&limits.low, &limits.high]) {
            self.look(limit, Use::Value);
        }
    }
}

fn limit_of(found: &Examined) -> Option<Arc<str>> {
    // What lies with the part itself goes before what lies with its user.
    let own = found.doubts.iter().find(|doubt| *doubt.limit != *GIVEN);
    own.or(found.doubts.first()).map(|doubt| doubt.limit.clone())
}
