//! No good finding stands before one that may be worse: the run would say good, and then something else.
//!
//! A worse one found before takes the good one away while the run goes on; one found after it could not.

use super::prover::Prover;
use crate::procedure::contract::Interface;
use crate::procedure::model::flat;
use crate::procedure::place::SourcePlace;
use crate::procedure::step::Step;
use crate::record::Grade;
use crate::source::Fault;

/// How a step may weigh: as a good finding, or as one worse than a note.
fn weighs(step: &Step) -> (bool, bool) {
    match step.course().concludes() {
        Some(conclude) => (conclude.grade == Grade::Good, conclude.grade > Grade::Note),
        None => (false, step.course().is_diagnosis()),
    }
}

impl Prover<'_> {
    /// A step that may be a finding.
    pub fn finding(&mut self, step: &Step) {
        let (good, worse) = weighs(step);
        if worse {
            self.worse(&step.place());
        }
        if good {
            self.good.push((step.place(), self.context.guard()));
        }
    }

    /// A part in its place.
    pub fn findings_of_part(&mut self, interface: &Interface, place: &SourcePlace) {
        let (good, worse) = interface.proven.weighs;
        if worse {
            self.worse(place);
        }
        if good {
            self.good.push((place.clone(), self.context.guard()));
        }
    }

    /// Tells of a finding that may be worse than a good one before it.
    fn worse(&mut self, place: &SourcePlace) {
        let before = self.good.iter().find(|(_, guard)| !self.context.rules_out(guard));
        let Some((good, _)) = before else { return };
        let fault = good_before(place, good);
        self.fault(fault);
    }

    /// Tells of a loop in which a good finding of one round may stand before a worse one of the next.
    pub fn findings_in_rounds(&mut self, step: &Step) {
        let of = |which: fn((bool, bool)) -> bool| flat(step.body()).find(move |inner| which(weighs(inner)));
        if let (Some(good), Some(worse)) = (of(|(good, _)| good), of(|(_, worse)| worse)) {
            let fault = good_before(&worse.place(), &good.place());
            self.fault(fault);
        }
    }

    /// Whether the steps of a part hold a good finding, and one that may be worse.
    pub fn weight_of(&self) -> (bool, bool) {
        let all = flat(&self.procedure.steps).map(weighs);
        all.fold((false, false), |(good, worse), (a, b)| (good || a, worse || b))
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
