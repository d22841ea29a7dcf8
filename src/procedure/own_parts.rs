//! An owner's file in place of one that came with the program warns of no less, and needs no less
//! without a reason.

use std::rc::Rc;

use super::draft::DraftFile;
use super::hazards::Hazard;
use super::shipped_states::means;
use super::verb::{DraftStep, flat, named_step};
use crate::source::{Fault, SourceText};
use crate::words::list;

/// The hazards that the shipped part of the same name has and this one has not, as faults.
pub(super) fn weakened((name, source): (&str, &SourceText), own: &DraftFile, made: &DraftFile) -> Vec<Fault> {
    if own.steps.is_empty() && !made.steps.is_empty() {
        return vec![emptied(name, source)];
    }
    let kept = named(own);
    // A procedure may go without a step and what can hurt there; a part is relied on for all it says.
    let part = name.starts_with("parts/");
    let still_done = |(state, hazard): &Named<'_>| {
        part || state.is_some()
            || flat(&made.steps).any(|step| {
                let has_it = step.id.as_ref().is_some_and(|id| named_step(&own.steps, &id.name).is_some());
                has_it && step.keys.hazards.contains(hazard)
            })
    };
    let dropped = named(made).into_iter().filter(|hazard| !kept.contains(hazard) && still_done(hazard));
    let mut faults: Vec<Fault> = dropped.map(|hazard| dropped_hazard(source, own, name, hazard)).collect();
    dropped_needs(name, (&own.steps, &made.steps), &mut faults);
    faults
}

/// The needs that steps of the shipped file have and those of the same id have not.
fn dropped_needs(name: &str, (own, made): (&[Rc<DraftStep>], &[Rc<DraftStep>]), faults: &mut Vec<Fault>) {
    for step in flat(made) {
        let Some(ours) = step.id.as_ref().and_then(|id| named_step(own, &id.name)) else { continue };
        let still = |state: &str| {
            let waived = ours.keys.without.iter().map(|waived| &waived.need);
            ours.keys.needs.iter().chain(waived).any(|need| need.text == state)
        };
        let dropped: Vec<&str> =
            step.keys.needs.iter().map(|need| need.text.as_str()).filter(|need| !still(need)).collect();
        if !dropped.is_empty() {
            faults.push(dropped_need(name, ours, &dropped));
        }
    }
}

fn dropped_need(name: &str, step: &DraftStep, dropped: &[&str]) -> Fault {
    let id = step.id.as_ref().map_or("", |id| &id.name);
    let quoted =
        |lead: &str, end: &str| dropped.iter().map(|state| format!("{lead}{state}{end}")).collect::<Vec<_>>();
    let states = list(quoted("`", "`"), "and");
    let message = format!("in the shipped `{name}` the step `{id}` needs {states}, and here it does not");
    let means: Vec<String> = dropped.iter().take(2).map(|state| means(state)).collect();
    let state = dropped.first().copied().unwrap_or_default();
    let place = step.id.as_ref().map_or(step.span, |id| id.place.span);
    Fault::new("need-dropped", &step.source, place, message)
        .why(format!(
            "{} Otherwise the step may be done where it can hurt, or measure something else.",
            means.join(" ")
        ))
        .remedy(format!(
            "write {} into its `needs` again. If you have a reason, write it, and every run and report \
             will say so: `without = {{ need = \"{state}\", because = \"…\" }}`",
            list(quoted("\"", "\""), "and")
        ))
}

/// A file that stands for a shipped one and does nothing.
fn emptied(name: &str, source: &SourceText) -> Fault {
    let message = format!("the shipped `{name}` has steps, and this file has none");
    let remedy = match name.strip_prefix("parts/") {
        Some(part) => format!(
            "put its steps back, or take this file away and write `leave_out = [\"{part}\"]` in the procedure"
        ),
        None => "put its steps back".to_string(),
    };
    let fault = Fault::new("emptied", source, (0..0).into(), message);
    fault.why("What uses it would go on as if its work had been done.").remedy(remedy)
}

/// What a file warns of: at a step, or of a state.
type Named<'d> = (Option<&'d str>, &'static Hazard);

fn named(file: &DraftFile) -> Vec<Named<'_>> {
    let mut all = Vec::new();
    for state in &file.states {
        all.extend(state.state.hazards.iter().map(|hazard| (Some(&*state.id.name), *hazard)));
    }
    for hazard in flat(&file.steps).flat_map(|step| &step.keys.hazards) {
        if !all.contains(&(None, *hazard)) {
            all.push((None, *hazard));
        }
    }
    all.dedup();
    all
}

fn dropped_hazard(source: &SourceText, own: &DraftFile, name: &str, (state, hazard): Named<'_>) -> Fault {
    let of = state.map_or(String::new(), |state| format!(" in work that needs `{state}`"));
    let message = format!("the shipped `{name}` warns of `{}`{of}, and this file does not", hazard.id);
    Fault::new("hazard-dropped", source, own.interface.span, message)
        .why(format!("{}: {} No file takes a warning away.", hazard.name, hazard.is))
        .remedy(match state {
            Some(state) => format!("write `hazards = [\"{}\"]` at the state `{state}`", hazard.id),
            None => format!("write `hazards = [\"{}\"]` at the step before which it must be read", hazard.id),
        })
}
