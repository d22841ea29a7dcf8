//! Loops: what holds at the head of a round, whichever round it is.
//!
//! At the head of the first round holds what held before the loop; at the head of a later one
//! what holds at the end of the body. States only come and go one by one, so one walk of the body
//! tells what is left of those held before, and a second one, from there, is the proof.
//! A loop begins by forgetting the answers of its body.

use super::names::Answered;
use super::prover::Prover;
use crate::procedure::model::flat;
use crate::procedure::shown::Use;
use crate::procedure::step::{Each, LoopKind, Repeat, Step};

impl Prover<'_> {
    /// Walks a `repeat`; `true` when the run certainly ends in it.
    pub(super) fn repeat(&mut self, step: &Step, repeat: &Repeat) -> bool {
        self.findings_in_rounds(step);
        let may_be_none = repeat.at_least == 0;
        if may_be_none {
            self.look(&repeat.until, Use::Until);
        }
        let before = self.states.snapshot(self.touched(&repeat.body).iter());
        let mark = self.context.mark();
        self.repeats += 1;
        let mut ends = self.rounds(&repeat.body, LoopKind::Repeat);
        if !ends {
            if !may_be_none {
                self.look(&repeat.until, Use::Until);
            }
            self.shown_texts(step);
        }
        self.repeats -= 1;
        if may_be_none {
            self.context.back_to(mark);
            if ends {
                self.states.put_back(before);
            } else {
                self.states.meet(before, &self.conditions);
            }
            self.renew(&repeat.body, Some(&Answered::IfAnyRound(step.place())));
            ends = false;
        }
        if !ends {
            self.rounds_over(step, repeat);
        }
        ends
    }

    /// Walks an `each`, which has a round for every tank, and so at least one.
    pub(super) fn each(&mut self, step: &Step, each: &Each) -> bool {
        self.findings_in_rounds(step);
        let ends = self.rounds(&each.body, LoopKind::Each);
        // Every tank has its own answers; outside, a name stands for all of them.
        self.renew(&each.body, None);
        self.tank_facts();
        if !ends {
            self.done(step);
        }
        ends
    }

    /// Walks the body for what it does to states, then again for the proof.
    fn rounds(&mut self, body: &[Step], which: LoopKind) -> bool {
        self.begin_round(body, which);
        let before = self.states.snapshot(self.touched(body).iter());
        if flat(body).any(|step| !step.undoes.is_empty()) {
            let mark = self.context.mark();
            self.quiet += 1;
            let ends = self.block(body);
            self.quiet -= 1;
            self.context.back_to(mark);
            if ends {
                self.states.put_back(before);
            } else {
                self.states.meet(before, &self.conditions);
            }
            self.begin_round(body, which);
        }
        self.block(body)
    }

    fn begin_round(&mut self, body: &[Step], which: LoopKind) {
        self.renew(body, Some(&Answered::NotYet));
        if which == LoopKind::Each {
            self.tank_facts();
        }
    }

    /// Facts about the tank are looked up again for each tank.
    fn tank_facts(&mut self) {
        for fact in &self.procedure.facts {
            if fact.is_about_a_tank() {
                self.names.renew(&fact.id, None);
            }
        }
    }

    fn renew(&mut self, body: &[Step], answered: Option<&Answered>) {
        for name in flat(body).flat_map(Step::names) {
            self.names.renew(&name, answered.cloned());
        }
    }
}
