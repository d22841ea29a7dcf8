//! Where a name that is not known comes from: the shipped file that was edited, or a part not used.

use std::rc::Rc;

use super::draft::DraftFile;
use super::name_origin::NameOrigin;
use super::naming::Naming;
use super::parts::Loader;
use super::shipped::part_name;
use super::verb::{DraftStep, DraftUse, named_step, uses};
use crate::words::list;

/// The most other names that are told beside the one that is missing.
const MOST_NAMES_BESIDE: usize = 5;

/// Where a name comes from that the file that is loaded speaks of and does not have.
pub(super) fn origin(loader: &Loader<'_>, name: &str) -> Option<NameOrigin> {
    let (source, steps) = loader.loaded()?;
    let parts = loader.every_part();
    let given_by = |steps: &[Rc<DraftStep>]| {
        uses(steps).find(|part| gives(&parts, part).contains(&name.to_string())).cloned()
    };
    if let Some(part) = given_by(&steps) {
        return Some(NameOrigin {
            comes_from: format!("`{name}` comes from {}, which stands later in the file.", part.name.text),
            cause: format!("later {}", part.name.text),
            remedy: "put what needs it after that".to_string(),
        });
    }
    if let Some(made) = loader.as_shipped(source.name()) {
        if let Some(part) = given_by(&made.steps) {
            let is_test = parts.iter().any(|(known, file)| *known == part.name.text && file.facts.is_empty());
            return Some(no_longer_used(name, &part, is_test, &gives(&parts, &part)));
        }
        if named_step(&made.steps, name).is_some() {
            return Some(step_gone(name, part_name(source.name())));
        }
    }
    let gives_it = |(_, file): &&(String, Rc<DraftFile>)| {
        file.declares(name) || file.interface.gives.iter().any(|term| *term.id.name == *name)
    };
    let (part, _) = parts.iter().find(gives_it)?;
    Some(NameOrigin {
        comes_from: format!("`{name}` comes from {part}, which this file does not use."),
        cause: format!("unused {part}"),
        remedy: format!("put `use = \"{part}\"` before the first place that needs it"),
    })
}

fn step_gone(name: &str, shipped: &str) -> NameOrigin {
    NameOrigin {
        comes_from: format!(
            "In the shipped `{shipped}` a step of its own is named `{name}`; this file no longer has it."
        ),
        cause: format!("step {name}"),
        remedy: format!("put the step back: `tankhand procedures copy {shipped} OTHER.toml` has it"),
    }
}

fn no_longer_used(name: &str, part: &DraftUse, is_test: bool, gives: &[String]) -> NameOrigin {
    let (from, prefix) = (&part.name.text, part.prefix.as_ref());
    let as_written = prefix.map_or(String::new(), |prefix| format!(" with `as = \"{prefix}\"`"));
    let others: Vec<String> =
        gives.iter().filter(|given| *given != name).map(|given| format!("`{given}`")).collect();
    let more = others.len().saturating_sub(MOST_NAMES_BESIDE);
    let mut named: Vec<String> = others.into_iter().take(MOST_NAMES_BESIDE).collect();
    named.extend((more > 0).then(|| format!("{more} more names")));
    let others = if named.is_empty() { String::new() } else { format!(" So do {}.", list(&named, "and")) };
    NameOrigin {
        comes_from: format!(
            "`{name}` comes from {from}{as_written}, which this file no longer uses.{others}"
        ),
        cause: format!("unused {from}{as_written}"),
        remedy: match is_test {
            true => format!(
                "put `use = \"{from}\"`{as_written} back. To leave the test out instead, keep it and write \
                 `leave_out = [\"{}\"]` at the top",
                part_name(from)
            ),
            false => format!("put `use = \"{from}\"`{as_written} back"),
        },
    }
}

/// What a part, used so, gives, its facts among it.
fn gives(parts: &[(String, Rc<DraftFile>)], part: &DraftUse) -> Vec<String> {
    let naming = Naming::default().inner(&part.prefix);
    let file = parts.iter().find(|(known, _)| *known == part.name.text);
    let terms = file.map(|(_, file)| &file.interface.gives).into_iter().flatten();
    let facts = file.map(|(_, file)| &file.facts).into_iter().flatten();
    let facts = facts.map(|fact| fact.id.name.to_string());
    terms.map(|term| naming.own(&term.id.name)).chain(facts).collect()
}
