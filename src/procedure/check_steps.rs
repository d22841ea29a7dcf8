//! Checking steps in their order, whatever their verbs.

use std::rc::Rc;
use std::sync::Arc;

use super::checking::Checking;
use super::observables::{Observable, Observed, observable};
use super::shipped_states::shipped_states;
use super::step::Step;
use super::verb::{Draft, DraftAction, DraftStep};
use super::without::{DraftWaiver, Waiver};
use crate::record::{PHASES, Phase};
use crate::source::Quoted;

/// Checks steps in their order.
pub(super) fn check_steps(drafts: &[Rc<DraftStep>], checking: &mut Checking<'_>) -> Vec<Step> {
    let mut steps = Vec::with_capacity(drafts.len());
    for draft in drafts {
        if checking.never(draft.keys.when.as_ref()) {
            continue;
        }
        match &draft.action {
            DraftAction::Part(part) => steps.extend(checking.loader.put(draft, part, checking)),
            DraftAction::Own(_) => steps.extend(check_step(draft, checking)),
        }
    }
    steps
}

/// Checks a step that is no part.
pub(super) fn check_step(draft: &DraftStep, checking: &mut Checking<'_>) -> Option<Step> {
    let (keys, id) = (&draft.keys, step_id(draft, checking));
    let tells = keys.tells.as_ref().and_then(|word| heading(word, checking));
    let tells = tells.and(checking.heading.or(tells));
    let when = keys.when.as_ref().and_then(|when| checking.condition(when));
    let texts = [&keys.title, &keys.why, &keys.repeated, &keys.paper, &keys.how];
    let [title, why, repeated, paper, how] = texts.map(|text| checking.optional_text(text));
    let needs = keys.needs.iter().map(|need| (checking.state(need), need.span)).collect();
    let [brings, undoes] = [&keys.brings, &keys.undoes].map(|names| checking.states(names));
    let without = keys.without.iter().map(|waiver| waived(waiver, checking)).collect();
    let action = match &draft.action {
        DraftAction::Own(Draft(check)) => check(draft, checking),
        // A part is put in place, not checked as a step.
        DraftAction::Part(_) => None,
    };
    if keys.skip && !draft.verb.answered {
        let fault = draft.fault("skip", format!("a `{}` step cannot be skipped", draft.verb.word()));
        let why = "Only what a person does or answers can be left out by that person.";
        checking.fault(fault.why(why).remedy("take `skip` out, or leave the step out with `when`"));
    }
    if keys.repeated.is_some() && !draft.verb.answered {
        let message = format!("a `{}` step is put to nobody, so nothing is put again", draft.verb.word());
        let why = "`repeated` stands in place of a question or instruction that was shown before.";
        checking.fault(draft.fault("repeated", message).why(why).remedy("take `repeated` out"));
    }
    let kind = action.as_ref().and_then(|action| action.course().gives()).map(|gives| gives.kind);
    let observes = observed(draft, kind.as_ref(), checking);
    if let (None, Some(id)) = (&action, draft.known_as(checking)) {
        checking.lose(&id);
    }
    Some(Step {
        id,
        label: keys.label.as_ref().map(|label| label.text.clone()),
        observes,
        tells,
        title,
        when,
        why,
        repeated,
        paper,
        how,
        needs,
        brings,
        undoes,
        hazards: keys.hazards.clone(),
        skip: keys.skip,
        without,
        action: action?,
        source: draft.source.clone(),
        span: draft.span,
        part: None,
    })
}

/// The name of a step: its own, or one made for it.
fn step_id(draft: &DraftStep, checking: &mut Checking<'_>) -> Arc<str> {
    let Some(id) = draft.known_as(checking) else { return checking.nameless(draft.verb.word()) };
    checking.count += 1;
    checking.unique(&id);
    let name = id.name.clone();
    checking.ids.push(id);
    name
}

/// What a step's answer is of, where that fits what it gives.
fn observed(
    draft: &DraftStep,
    kind: Option<&crate::quantity::Kind>,
    checking: &mut Checking<'_>,
) -> Option<&'static Observable> {
    let name = draft.keys.observes.as_ref()?;
    match kind {
        Some(kind) => checking.observed(name, kind),
        None => observable(&name.text)
            .filter(|known| draft.verb.answered && known.observed == Observed::Deed)
            .or_else(|| {
                let word = draft.verb.word();
                let message = format!("a `{word}` step has no answer that could be of anything");
                checking.none(name.fault("other-observable", message).remedy("take `observes` out"))
            }),
    }
}

/// A need that is left out: a state of the file's, or one that comes with the program.
fn waived(draft: &DraftWaiver, checking: &mut Checking<'_>) -> Waiver {
    let shipped = shipped_states().contains(&draft.need.text.as_str());
    let need = if shipped { Arc::from(draft.need.text.as_str()) } else { checking.state(&draft.need) };
    Waiver { need, because: draft.because.text.clone() }
}

/// The heading of the summary that a file names.
pub(super) fn heading(word: &Quoted, checking: &mut Checking<'_>) -> Option<Phase> {
    checking.one_of(word, &PHASES, ("unknown-word", "is no heading"))
}
