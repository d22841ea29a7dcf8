//! Where a name that is not known comes from: the shipped file that was edited, or a part not used.

use std::rc::Rc;

use super::checking::Origin;
use super::draft::DraftFile;
use super::naming::Naming;
use super::parts::Loader;
use super::shipped::part_name;
use super::verb::{DraftAction, DraftStep, DraftUse};

/// Where a name comes from that the file that is loaded speaks of and does not have.
pub(super) fn origin(loader: &Loader<'_>, name: &str) -> Option<Origin> {
    let (source, steps) = loader.loaded()?;
    let parts = loader.every_part();
    let stem = part_name(source.name());
    let made = loader.as_shipped(source.name());
    let ours = uses(&steps);
    let by_part = |part: &DraftUse| gives(&parts, part, name);
    if ours.iter().any(|part| by_part(part)) {
        let part = ours.iter().find(|part| by_part(part))?;
        return Some(Origin {
            comes_from: format!("`{name}` comes from {}, which stands later in the file.", part.name.text),
            remedy: "put what needs it after that".to_string(),
        });
    }
    if let Some(made) = made {
        if let Some(part) = uses(&made.steps).into_iter().find(|part| by_part(part)) {
            return Some(no_longer_used(name, &part));
        }
        if has_step(&made.steps, name) {
            return Some(Origin {
                comes_from: format!(
                    "In the shipped `{stem}` a step of its own is named `{name}`; this file no longer has it."
                ),
                remedy: format!("put the step back: `tankhand procedures copy {stem} OTHER.toml` has it"),
            });
        }
    }
    let (part, _) = parts.iter().find(|(_, file)| file.interface.gives.iter().any(|term| *term.id.name == *name))?;
    Some(Origin {
        comes_from: format!("`{name}` comes from {part}, which this file does not use."),
        remedy: format!("put `use = \"{part}\"` before the first place that needs it"),
    })
}

fn no_longer_used(name: &str, part: &DraftUse) -> Origin {
    let (from, text) = (&part.name.text, part.prefix.as_ref());
    let as_written = text.map_or(String::new(), |prefix| format!(" with `as = \"{prefix}\"`"));
    Origin {
        comes_from: format!("`{name}` comes from {from}{as_written}, which this file no longer uses."),
        remedy: format!(
            "put `use = \"{from}\"`{as_written} back. To leave the test out instead, keep it and write \
             `leave_out = [\"{}\"]` at the top",
            part_name(from)
        ),
    }
}

/// The parts that steps use, those inside loops too.
pub(super) fn uses(steps: &[Rc<DraftStep>]) -> Vec<DraftUse> {
    let mut all = Vec::new();
    for step in steps {
        match &step.action {
            DraftAction::Part(part) => all.push(part.clone()),
            DraftAction::Own(_) => all.extend(uses(&step.body)),
        }
    }
    all
}

/// Whether a part, used so, gives a name.
fn gives(parts: &[(String, Rc<DraftFile>)], part: &DraftUse, name: &str) -> bool {
    let naming = Naming { prefix: part.prefix.clone(), ..Naming::default() };
    let file = parts.iter().find(|(known, _)| *known == part.name.text);
    file.is_some_and(|(_, file)| file.interface.gives.iter().any(|term| naming.own(&term.id.name) == name))
}

fn has_step(steps: &[Rc<DraftStep>], name: &str) -> bool {
    steps.iter().any(|step| step.id.as_ref().is_some_and(|id| *id.name == *name) || has_step(&step.body, name))
}
