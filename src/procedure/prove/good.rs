//! No good finding stands before one that may be worse: the run would say good, and then something else.
//!
//! A worse one found before takes the good one away while the run goes on; one found after it could not.

use super::prover::Prover;
use crate::procedure::contract::Weighs;
use crate::procedure::model::flat;
use crate::procedure::place::SourcePlace;
use crate::procedure::step::Step;
use crate::record::Grade;
use crate::source::Fault;

/// How a step may weigh.
fn weighs(step: &Step) -> Weighs {
    let grade = step.course().concludes().map(|conclude| conclude.grade);
    let worse = grade > Some(Grade::Note) || step.course().is_diagnosis();
    Weighs { good: grade == Some(Grade::Good), worse }
}

impl Prover<'_> {
    /// A step that may be a finding.
    pub(super) fn finding(&mut self, step: &Step) {
        self.findings_at(&step.place(), weighs(step));
    }

    /// What may be found at a place; tells of it when it may be worse than a good finding before it.
    pub(super) fn findings_at(&mut self, place: &SourcePlace, weight: Weighs) {
        let mut before = self.good.iter().filter(|_| weight.worse);
        if let Some((good, _)) = before.find(|(_, guard)| !self.context.rules_out(guard)) {
            let fault = good_before(place, good);
            self.fault(fault);
        }
        if weight.good {
            self.good.push((place.clone(), self.context.guard()));
        }
    }

    /// Tells of a loop in which a good finding of one round may stand before a worse one of the next.
    pub(super) fn findings_in_rounds(&mut self, step: &Step) {
        let of = |which: fn(Weighs) -> bool| flat(step.body()).find(move |inner| which(weighs(inner)));
        if let (Some(good), Some(worse)) = (of(|it| it.good), of(|it| it.worse)) {
            let fault = good_before(&worse.place(), &good.place());
            self.fault(fault);
        }
    }

    /// How the steps of a part may weigh.
    pub(super) fn weight(&self) -> Weighs {
        let all = flat(&self.procedure.steps).map(weighs);
        all.fold(Weighs::default(), |a, b| Weighs { good: a.good || b.good, worse: a.worse || b.worse })
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
