//! What a file and the parts it uses declare, before anything is checked.

use std::rc::Rc;
use std::sync::Arc;

use super::draft::{DraftFile, DraftState};
use super::drafting::Id;
use super::fact::Fact;
use super::facts::DraftFact;
use super::leave_out::LeftOutPart;
use super::model::Procedure;
use super::step::Step;
use crate::source::{Fault, Quoted, SourceText};

/// What a file and the parts it uses declare.
#[derive(Default)]
pub(super) struct Gathered {
    pub facts: Vec<Rc<DraftFact>>,
    pub states: Vec<DraftState>,
    pub texts: Vec<SourceText>,
    pub lost: Vec<String>,
    pub confidence: Option<f64>,
    pub faults: Vec<Fault>,
}

/// A file and what was made of it, as a procedure.
pub(super) fn assemble(
    file: &DraftFile,
    gathered: Gathered,
    facts: Vec<Fact>,
    (steps, left_out): (Vec<Step>, Vec<LeftOutPart>),
) -> Procedure {
    let text = |quoted: &Option<Quoted>| quoted.as_ref().map(|q| q.text.clone());
    Procedure {
        title: text(&file.title).unwrap_or_default(),
        report: text(&file.report),
        purpose: text(&file.purpose).unwrap_or_default(),
        time: text(&file.time),
        bring: file.bring.iter().map(|q| q.text.clone()).collect(),
        confidence: gathered.confidence,
        facts,
        states: gathered.states.into_iter().map(|draft| draft.state).collect(),
        steps,
        left_out,
        texts: gathered.texts,
    }
}

impl Gathered {
    /// The states there are.
    pub(super) fn state_names(&self) -> Vec<Arc<str>> {
        self.states.iter().map(|state| state.id.name.clone()).collect()
    }

    /// Takes over facts and states; the same one may be declared again if it says the same. Of
    /// confidences the greatest counts.
    pub(super) fn declare(&mut self, file: &DraftFile) {
        self.confidence = [self.confidence, file.confidence].into_iter().flatten().reduce(f64::max);
        self.lost.extend(file.lost.iter().cloned());
        for fact in &file.facts {
            match self.facts.iter().find(|known| known.id.name == fact.id.name) {
                None => self.facts.push(fact.clone()),
                Some(known) if Rc::ptr_eq(known, fact) || known.same_as(fact) => {}
                Some(_) => self.faults.push(differs(&fact.id, "fact")),
            }
        }
        file.states.iter().for_each(|state| self.state(state));
    }

    pub(super) fn state(&mut self, draft: &DraftState) {
        let new = &draft.state;
        match self.states.iter().map(|known| &known.state).find(|known| known.id == new.id) {
            None => self.states.push(draft.clone()),
            Some(known) if (&known.means, &known.hazards) == (&new.means, &new.hazards) => {}
            Some(_) => self.faults.push(differs(&draft.id, "state")),
        }
    }
}

fn differs(id: &Id, what: &str) -> Fault {
    id.place
        .fault("same-id", format!("the {what} `{}` is declared elsewhere in other words", id.name))
        .why(format!("One {what} can only mean one thing."))
        .remedy("make both declarations the same, or give this one another id")
}
