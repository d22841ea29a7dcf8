//! No good finding stands before one that may be worse: the run would say good, and then something else.
//!
//! A worse one found before takes the good one away while the run goes on; one found after it could not.

use super::prover::Prover;
use crate::procedure::contract::MayFind;
use crate::procedure::model::flat;
use crate::procedure::place::SourcePlace;
use crate::procedure::step::Step;
use crate::record::Grade;
use crate::source::Fault;

/// What a step may find.
fn may_find(step: &Step) -> MayFind {
    match step.course().concludes() {
        Some(conclude) => {
            MayFind { good: conclude.grade == Grade::Good, worse: conclude.grade > Grade::Note }
        }
        None => MayFind { good: false, worse: step.course().is_diagnosis() },
    }
}

impl Prover<'_> {
    /// A step that may be a finding.
    pub fn finding(&mut self, step: &Step) {
        self.findings_at(&step.place(), may_find(step));
    }

    /// What may be found at a place; tells of it when it may be worse than a good finding before it.
    pub fn findings_at(&mut self, place: &SourcePlace, may: MayFind) {
        let mut before = self.good.iter().filter(|_| may.worse);
        if let Some((good, _)) = before.find(|(_, guard)| !self.context.rules_out(guard)) {
            let fault = good_before(place, good);
            self.fault(fault);
        }
        if may.good {
            self.good.push((place.clone(), self.context.guard()));
        }
    }

    /// Tells of a loop in which a good finding of one round may stand before a worse one of the next.
    pub fn findings_in_rounds(&mut self, step: &Step) {
        let of = |which: fn(MayFind) -> bool| flat(step.body()).find(move |inner| which(may_find(inner)));
        if let (Some(good), Some(worse)) = (of(|it| it.good), of(|it| it.worse)) {
            let fault = good_before(&worse.place(), &good.place());
            self.fault(fault);
        }
    }

    /// What the steps of a part may find.
    pub fn may_find(&self) -> MayFind {
        let all = flat(&self.procedure.steps).map(may_find);
        all.fold(MayFind::default(), |a, b| MayFind { good: a.good || b.good, worse: a.worse || b.worse })
    }
}

fn good_before(worse: &SourcePlace, good: &SourcePlace) -> Fault {
    let message = "this may be found after something good was";
    worse
        .fault("good-before-worse", message)
        .why(format!("The run would say good ({}), and then something worse.", good.shown()))
        .remedy("put the good finding last, with what it rests on in its `rests_on`")
        .cause(format!("good {}", good.shown()))
}
