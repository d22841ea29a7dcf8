//! Which changes make the work less safe.

use super::outline::{OutlineItem, claimed_by};
use crate::procedure::steps::declared;
use crate::words::list;

/// What a key loses, or wins, that makes the work less safe.
#[derive(Clone, Copy, Debug)]
pub(super) enum Loss {
    /// A name that stood in the list, with what was so.
    Named(&'static str, &'static str),
    /// A name that is claimed anew.
    Claimed(&'static str),
    /// A flag that stood.
    Flag(&'static str, &'static str),
    /// A flag that is set anew.
    Set(&'static str, &'static str),
    /// The whole key.
    Key(&'static str, &'static str),
}

/// All of them, the gravest first.
pub(super) static LOSSES: &[Loss] = &[
    Loss::Named("hazards", "no longer warns of"),
    Loss::Named("needs", "no longer needs"),
    Loss::Claimed("brings"),
    Loss::Named("undoes", "no longer says that it ends"),
    Loss::Flag("must", "no longer stops the work when it fails"),
    Loss::Set("skip", "may be skipped"),
    Loss::Key("status", "no longer asks for the status that is seen"),
    Loss::Key("see", "no longer says what shows that it went right"),
    Loss::Key("not_so", "no longer says what to do when it is not so"),
    Loss::Key("never", "no longer has an answer for what does not happen"),
    Loss::Key("gauge", "no longer names its gauge, so that its readings count as exact"),
    Loss::Key("between", "no longer has limits outside which an answer is refused"),
    Loss::Key("agree", "no longer says how far its readings may lie apart"),
    Loss::Key("observes", "no longer says what the answer is of"),
    Loss::Key("confidence", "no longer asks for its confidence"),
];

/// What a rule finds between an item and the shipped one, in sentences.
pub(super) fn loss(rule: &Loss, item: &OutlineItem, made: &OutlineItem) -> Vec<String> {
    let called = item.called();
    match *rule {
        Loss::Named(key, says) => {
            let lost = without_repeats(made.list(key), &item.list(key));
            let reasons = if key == "needs" { item.list("without") } else { Vec::new() };
            let reason = reasons.first().map(|reason| format!("; the file says why: {reason}"));
            let reason = reason.unwrap_or_default();
            let says = (!lost.is_empty()).then(|| format!("{called} {says} {}{reason}", list(&lost, "and")));
            says.into_iter().collect()
        }
        Loss::Claimed(key) => without_repeats(item.list(key), &made.list(key))
            .iter()
            .map(|state| {
                let parts = claimed_by(state.trim_matches('`'));
                let some = list(&parts[..parts.len().min(3)], "and");
                let shipped = match parts.is_empty() {
                    true => "no shipped step does".to_string(),
                    false => format!("in the shipped set it comes about in {some}"),
                };
                format!("{called} claims {state}; {shipped}")
            })
            .collect(),
        Loss::Flag(key, says) if made.is_yes(key) && !item.is_yes(key) => vec![format!("{called} {says}")],
        Loss::Set(key, says) if item.is_yes(key) && !made.is_yes(key) => vec![format!("{called} {says}")],
        Loss::Key(key, says) if made.has(key) && !item.has(key) => vec![format!("{called} {says}")],
        Loss::Flag(..) | Loss::Set(..) | Loss::Key(..) => Vec::new(),
    }
}

/// The names of one list that the other has not, as they are quoted.
fn without_repeats(all: Vec<&str>, but: &[&str]) -> Vec<String> {
    all.into_iter().filter(|name| !but.contains(name)).map(|name| format!("`{name}`")).collect()
}

/// Whether what was said of a loss is about that key, so that it need not be told again.
pub(super) fn speaks_of(said: &str, key: &str) -> bool {
    LOSSES.iter().any(|rule| match *rule {
        Loss::Named(of, says) | Loss::Flag(of, says) | Loss::Set(of, says) | Loss::Key(of, says) => {
            of == key && said.contains(says)
        }
        Loss::Claimed(of) => of == key && said.contains(" claims "),
    })
}

/// What steps did for safety, in clauses: told of those that are left out.
pub(super) fn duties(steps: &[OutlineItem]) -> Vec<String> {
    let mut duties = Vec::new();
    for (key, says) in [("hazards", "warned of"), ("brings", "brought about")] {
        let mut names: Vec<String> = Vec::new();
        for name in steps.iter().flat_map(|step| without_repeats(step.list(key), &[])) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        if !names.is_empty() {
            duties.push(format!("{says} {}", list(&names, "and")));
        }
    }
    if steps.iter().any(|step| step.is_yes("must")) {
        duties.push("stopped the work when a check failed".to_string());
    }
    if steps.iter().any(|step| step.has("status")) {
        duties.push("asked for a status that is seen".to_string());
    }
    duties
}

/// Whether a change of a key is one of words only.
pub(super) fn is_wording(key: &str) -> bool {
    declared(key).any(|key| key.wording)
}
