//! What the walk through a procedure knows at the place where it stands.

use super::choices::choices;
use super::conditions::{Conditions, Guard};
use super::context::Context;
use super::entered::Entered;
use super::names::NamesMet;
use super::states::States;
use crate::procedure::model::Procedure;
use crate::procedure::place::SourcePlace;
use crate::source::Fault;

/// The most faults told at once; a file with more has one cause for many.
const MOST_FAULTS: usize = 100;

pub(super) struct Prover<'p> {
    pub procedure: &'p Procedure,
    pub conditions: Conditions,
    pub context: Context,
    pub names: NamesMet,
    pub states: States,
    /// The good findings so far, each with where it stands and when it is come to.
    pub good: Vec<(SourcePlace, Guard)>,
    /// How many `repeat`s stand around.
    pub repeats: u32,
    /// What a part came with, when one is proven by itself.
    pub entered: Option<Entered>,
    /// Above zero while a loop is walked only for what it does to states.
    pub quiet: u32,
    faults: Vec<Fault>,
}

impl<'p> Prover<'p> {
    pub(super) fn new(procedure: &'p Procedure) -> Prover<'p> {
        let mut names = NamesMet::with_room(procedure.facts.len() + procedure.steps.len());
        procedure.facts.iter().for_each(|fact| names.fact(&fact.id, fact.unknown));
        for left in &procedure.left_out {
            left.names.iter().for_each(|name| names.left_out(name, &left.part));
        }
        Prover {
            procedure,
            conditions: Conditions::new(choices(procedure)),
            context: Context::default(),
            names,
            states: States::default(),
            good: Vec::new(),
            repeats: 0,
            entered: None,
            quiet: 0,
            faults: Vec::new(),
        }
    }

    pub(super) fn into_faults(self) -> Vec<Fault> {
        self.faults
    }

    pub(super) fn fault(&mut self, fault: Fault) {
        if self.quiet == 0 && self.faults.len() < MOST_FAULTS {
            self.faults.push(fault);
        }
    }
}
