//! Checking steps in their order, whatever their verbs.

use std::rc::Rc;
use std::sync::Arc;

use super::checking::Checking;
use super::step::{Action, Step, Tells};
use super::verb::{DraftAction, DraftStep};
use crate::source::Fault;

/// The headings of the summary, as a file names them.
const TELLS: &[(&str, Tells)] = &[("found", Tells::Found), ("done", Tells::Done), ("left", Tells::Left)];

/// Checks steps in their order.
pub(super) fn check_steps(drafts: &[Rc<DraftStep>], checking: &mut Checking<'_>) -> Vec<Step> {
    let mut steps = Vec::with_capacity(drafts.len());
    steps.extend(drafts.iter().filter_map(|draft| check_step(draft, checking)));
    steps
}

fn check_step(draft: &DraftStep, checking: &mut Checking<'_>) -> Option<Step> {
    checking.count += 1;
    let id: Arc<str> = match &draft.id {
        Some(id) => id.name.clone(),
        None => Arc::from(format!("{}_{}", draft.verb.word(), checking.count)),
    };
    if let Some(id) = &draft.id {
        checking.unique(id);
    }
    let heading = |word| checking.one_of(word, TELLS, ("unknown-word", "is no heading"));
    let tells = draft.tells.as_ref().and_then(heading);
    let title = checking.optional_text(&draft.title);
    let when = draft.when.as_ref().map(|when| checking.yes_no(when));
    let why = checking.optional_text(&draft.why);
    let how = checking.optional_text(&draft.how);
    let needs = checking.states(&draft.needs);
    let brings = checking.states(&draft.brings).into_iter().map(|(name, _)| name).collect();
    let undoes = checking.states(&draft.undoes).into_iter().map(|(name, _)| name).collect();
    let action = match &draft.action {
        DraftAction::Own(action) => action.check(draft, checking),
        // Parts are in place before anything is checked.
        DraftAction::Part(_) => None,
    };
    if draft.skip {
        may_be_skipped(draft, action.as_deref(), checking);
    }
    if let (None, Some(id)) = (&action, &draft.id) {
        checking.lose(id);
    }
    Some(Step {
        id,
        label: draft.label.as_ref().map(|label| label.text.clone()),
        tells,
        title,
        when: when.flatten(),
        why,
        how,
        needs,
        brings,
        undoes,
        skip: draft.skip,
        action: action?,
        source: draft.source.clone(),
        span: draft.span,
    })
}

/// Notes why a step that says `skip = true` must not.
fn may_be_skipped(draft: &DraftStep, action: Option<&dyn Action>, checking: &mut Checking<'_>) {
    if !draft.verb.answered {
        checking.fault(
            Fault::new(
                "skip",
                &draft.source,
                draft.span,
                format!("a `{}` step cannot be skipped", draft.verb.word()),
            )
            .why("Only what a person does or answers can be left out by that person.")
            .remedy("take `skip` out, or leave the step out with `when`"),
        );
    }
    let danger = action.and_then(|action| action.course().asks()?.shows().danger?.origin());
    if let Some(danger) = danger {
        checking.fault(
            Fault::new(
                "danger-skippable",
                &danger.source,
                danger.span,
                "a step with a danger can be skipped",
            )
            .why("Who skips the step never acknowledges the danger, and may go on as if it had been done.")
            .remedy("take `skip = true` out, or put the danger into a step of its own"),
        );
    }
}
