//! An owner's part in place of one that came with the program warns of no less.

use std::rc::Rc;

use super::draft::DraftFile;
use super::hazards::Hazard;
use super::verb::DraftStep;
use crate::source::{Fault, SourceText};

/// The hazards that the shipped part of the same name has and this one has not, as faults.
pub(super) fn weakened((name, source): (&str, &SourceText), own: &DraftFile, made: &DraftFile) -> Vec<Fault> {
    let kept = named(own);
    let dropped = named(made).into_iter().filter(|hazard| !kept.contains(hazard));
    dropped.map(|hazard| dropped_hazard(source, own, name, hazard)).collect()
}

/// What a file warns of: at a step, or of a state.
type Named<'d> = (Option<&'d str>, &'static Hazard);

fn named(file: &DraftFile) -> Vec<Named<'_>> {
    let mut all = Vec::new();
    for state in &file.states {
        all.extend(state.hazards.iter().map(|hazard| (Some(&*state.id.name), *hazard)));
    }
    at_steps(&file.steps, &mut all);
    all.dedup();
    all
}

fn at_steps(steps: &[Rc<DraftStep>], all: &mut Vec<Named<'_>>) {
    for step in steps {
        let new: Vec<_> = step.hazards.iter().filter(|hazard| !all.contains(&(None, **hazard))).collect();
        all.extend(new.into_iter().map(|hazard| (None, *hazard)));
        at_steps(&step.body, all);
    }
}

fn dropped_hazard(source: &SourceText, own: &DraftFile, name: &str, (state, hazard): Named<'_>) -> Fault {
    let of = state.map_or(String::new(), |state| format!(" in work that needs `{state}`"));
    let message =
        format!("the part `{name}` of the program warns of `{}`{of}, and this one does not", hazard.id);
    Fault::new("hazard-dropped", source, own.interface.span, message)
        .why(format!("{}: {} No file takes a warning away.", hazard.name, hazard.is))
        .remedy(match state {
            Some(state) => format!("write `hazards = [\"{}\"]` at the state `{state}`", hazard.id),
            None => format!("write `hazards = [\"{}\"]` at the step before which it must be read", hazard.id),
        })
}
