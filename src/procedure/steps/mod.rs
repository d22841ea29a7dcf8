//! The kinds of steps, one file each, and the table of their verbs.

mod check_step;
mod choose_step;
mod compute_step;
mod do_step;
mod each_step;
mod read_step;
mod repeat_step;
mod stop_step;
mod use_step;
mod wait_step;
mod write_step;

use std::rc::Rc;
use std::sync::Arc;

use smallvec::SmallVec;

pub use check_step::Check;
pub use choose_step::{Choice, Choose};
pub use compute_step::Compute;
pub use do_step::Do;
pub use each_step::Each;
pub use read_step::Read;
pub use repeat_step::Repeat;
pub use stop_step::{Stop, StopOutcome};
pub(super) use use_step::DraftUse;
pub use wait_step::Wait;
pub use write_step::{Write, WriteKind};

use super::bind::use_part;
use super::checking::Checking;
use super::draft::{DraftExpr, DraftStep, Drafting, Id};
use super::model::{Step, Tells};
use crate::document::Fields;
use crate::source::{Fault, Quoted};
use crate::words::{did_you_mean, list};

/// What a step is, checked.
#[derive(Clone, Debug)]
pub enum Action {
    /// Something to do.
    Do(Do),
    /// A reading to take.
    Read(Box<Read>),
    /// A word to choose.
    Choose(Choose),
    /// A text to write.
    Write(Write),
    /// A value to compute.
    Compute(Compute),
    /// A comparison to make.
    Check(Check),
    /// A time to wait.
    Wait(Wait),
    /// Steps to repeat.
    Repeat(Repeat),
    /// Steps for each tank.
    Each(Each),
    /// The end of the work.
    Stop(Stop),
}

/// What a step is, unchecked.
#[derive(Clone, Debug)]
pub(super) enum DraftAction {
    Do(do_step::Draft),
    Read(Box<read_step::Draft>),
    Choose(choose_step::Draft),
    Write(write_step::Draft),
    Compute(compute_step::Draft),
    Check(check_step::Draft),
    Wait(wait_step::Draft),
    Repeat(repeat_step::Draft),
    Each(each_step::Draft),
    Use(DraftUse),
    Stop(stop_step::Draft),
}

/// One verb of the procedure language.
pub struct Verb {
    /// The key that makes a step of this kind.
    pub word: &'static str,
    /// What it is for, in a sentence.
    pub sentence: &'static str,
    /// The keys it may have beside the common ones.
    pub keys: &'static [&'static str],
    draft: DraftFn,
}

/// Reads a verb's own keys; the last argument says how deep in loops the step stands.
type DraftFn = fn(&Fields<'_>, &Drafting<'_>, usize) -> Option<DraftAction>;

/// The keys every step may have.
pub(super) const COMMON_KEYS: &[&str] =
    &["id", "label", "tells", "title", "when", "why", "how", "needs", "brings", "undoes", "skip"];

/// Every verb.
pub static VERBS: &[Verb] = &[
    do_step::VERB,
    read_step::VERB,
    choose_step::VERB,
    write_step::VERB,
    compute_step::VERB,
    check_step::VERB,
    wait_step::VERB,
    repeat_step::VERB,
    each_step::VERB,
    use_step::VERB,
    stop_step::VERB,
];

/// Drafts what a step is from its one verb.
pub(super) fn draft(fields: &Fields<'_>, drafting: &Drafting<'_>, depth: usize) -> Option<DraftAction> {
    let mut verbs: SmallVec<[&Verb; 2]> = fields.keys().filter_map(|(key, _)| verb(key)).collect();
    verbs.sort_by_key(|verb| fields.key_span(verb.word));
    match verbs.as_slice() {
        [verb] => {
            let known =
                |key: &str| verb.word == key || COMMON_KEYS.contains(&key) || verb.keys.contains(&key);
            if !fields.keys().all(|(key, _)| known(key)) {
                let known: Vec<&str> =
                    [verb.word].iter().chain(COMMON_KEYS).chain(verb.keys).copied().collect();
                fields.only(&known);
            }
            (verb.draft)(fields, drafting, depth)
        }
        [] => {
            no_verb(fields);
            None
        }
        [first, second, ..] => {
            fields.walk().fault(
                Fault::new(
                    "two-verbs",
                    fields.source(),
                    fields.key_span(second.word),
                    format!("this step has two verbs, `{}` and `{}`", first.word, second.word),
                )
                .mark(fields.key_span(first.word), "the first")
                .why("A step is one thing; with two it would not be clear which comes first.")
                .remedy("make two steps of it"),
            );
            None
        }
    }
}

fn verb(word: &str) -> Option<&'static Verb> {
    VERBS.iter().find(|verb| verb.word == word)
}

fn no_verb(fields: &Fields<'_>) {
    let words: Vec<&str> = VERBS.iter().map(|verb| verb.word).collect();
    let stray = fields
        .keys()
        .find(|(key, _)| !COMMON_KEYS.contains(key) && VERBS.iter().all(|verb| !verb.keys.contains(key)));
    let (span, remedy) = match stray {
        Some((key, span)) => (span, did_you_mean(key, &words)),
        None => (fields.span, format!("add one of {}", list(&words, "or"))),
    };
    fields.walk().fault(
        Fault::new("no-verb", fields.source(), span, "this step does not say what it is")
            .why("Exactly one verb makes a step.")
            .remedy(remedy),
    );
}

impl DraftAction {
    fn word(&self) -> &'static str {
        match self {
            DraftAction::Do(_) => "do",
            DraftAction::Read(_) => "read",
            DraftAction::Choose(_) => "choose",
            DraftAction::Write(_) => "write",
            DraftAction::Compute(_) => "compute",
            DraftAction::Check(_) => "check",
            DraftAction::Wait(_) => "wait",
            DraftAction::Repeat(_) => "repeat",
            DraftAction::Each(_) => "each",
            DraftAction::Use(_) => "use",
            DraftAction::Stop(_) => "stop",
        }
    }

    /// Where its danger stands, when it has one.
    fn danger(&self) -> Option<&Quoted> {
        match self {
            DraftAction::Do(draft) => draft.danger(),
            _ => None,
        }
    }

    /// Whether a person does or answers it.
    fn is_answered(&self) -> bool {
        use DraftAction::{Choose, Do, Read, Write};
        matches!(self, Do(_) | Read(_) | Choose(_) | Write(_))
    }

    fn check(&self, checking: &mut Checking<'_>) -> Option<Action> {
        match self {
            DraftAction::Do(draft) => draft.check(checking).map(Action::Do),
            DraftAction::Read(draft) => draft.check(checking).map(Box::new).map(Action::Read),
            DraftAction::Choose(draft) => draft.check(checking).map(Action::Choose),
            DraftAction::Write(draft) => draft.check(checking).map(Action::Write),
            DraftAction::Compute(draft) => draft.check(checking).map(Action::Compute),
            DraftAction::Check(draft) => draft.check(checking).map(Action::Check),
            DraftAction::Wait(draft) => draft.check(checking).map(Action::Wait),
            DraftAction::Repeat(draft) => draft.check(checking).map(Action::Repeat),
            DraftAction::Each(draft) => draft.check(checking).map(Action::Each),
            DraftAction::Stop(draft) => draft.check(checking).map(Action::Stop),
            // A part is put in place, not checked as a step.
            DraftAction::Use(_) => None,
        }
    }
}

/// Checks steps in their order, and puts parts in place.
pub(super) fn check_steps(drafts: &[Rc<DraftStep>], checking: &mut Checking<'_>) -> Vec<Step> {
    let mut steps = Vec::with_capacity(drafts.len());
    for draft in drafts {
        match &draft.action {
            DraftAction::Use(part) => steps.extend(use_part(draft, part, checking)),
            _ => steps.extend(check_step(draft, checking)),
        }
    }
    steps
}

/// A step that works out a value under a name, and says nothing of it.
pub(super) fn computed(id: Id, expr: &DraftExpr) -> DraftStep {
    DraftStep {
        source: id.source.clone(),
        span: id.span,
        id: Some(id),
        label: None,
        tells: None,
        title: None,
        when: None,
        why: None,
        how: None,
        needs: Vec::new(),
        brings: Vec::new(),
        undoes: Vec::new(),
        skip: false,
        action: DraftAction::Compute(compute_step::Draft::silent(expr.clone())),
    }
}

pub(super) fn check_step(draft: &DraftStep, checking: &mut Checking<'_>) -> Option<Step> {
    let id: Arc<str> = match &draft.id {
        Some(id) => {
            checking.count += 1;
            id.name.clone()
        }
        None => checking.nameless(draft.action.word()),
    };
    if let Some(id) = &draft.id {
        checking.unique(id);
        checking.ids.push(id.clone());
    }
    let tells = draft.tells.as_ref().and_then(|word| tells(word, checking));
    let title = checking.optional_text(&draft.title);
    let when = draft.when.as_ref().map(|when| checking.yes_no(when));
    let why = checking.optional_text(&draft.why);
    let how = checking.optional_text(&draft.how);
    let needs = checking.states(&draft.needs);
    let brings = checking.states(&draft.brings).into_iter().map(|(name, _)| name).collect();
    let undoes = checking.states(&draft.undoes).into_iter().map(|(name, _)| name).collect();
    if draft.skip {
        may_be_skipped(draft, checking);
    }
    checking.id = draft.id.clone();
    let action = draft.action.check(checking);
    checking.id = None;
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
        part: None,
    })
}

/// The heading of the summary that a step's answer belongs under.
pub(super) fn tells(word: &Quoted, checking: &mut Checking<'_>) -> Option<Tells> {
    match word.text.as_str() {
        "found" => Some(Tells::Found),
        "done" => Some(Tells::Done),
        "left" => Some(Tells::Left),
        other => {
            checking.fault(
                Fault::new(
                    "unknown-word",
                    &word.source,
                    word.span,
                    format!("`{}` is no heading", other.escape_debug()),
                )
                .remedy(did_you_mean(other, &["found", "done", "left"])),
            );
            None
        }
    }
}

/// Notes why a step that says `skip = true` must not.
fn may_be_skipped(draft: &DraftStep, checking: &mut Checking<'_>) {
    if !draft.action.is_answered() {
        checking.fault(
            Fault::new(
                "skip",
                &draft.source,
                draft.span,
                format!("a `{}` step cannot be skipped", draft.action.word()),
            )
            .why("Only what a person does or answers can be left out by that person.")
            .remedy("take `skip` out, or leave the step out with `when`"),
        );
    }
    if let Some(danger) = draft.action.danger() {
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
