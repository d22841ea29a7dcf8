//! What a verb is to the reader of files: its words, its keys, and how a step of it is drafted.

use std::fmt;
use std::rc::Rc;
use std::sync::Arc;

use super::checking::Checking;
use super::drafting::{DraftExpr, Drafting, Id};
use super::hazards::Hazard;
use super::keys::Key;
use super::step::Action;
use super::without::DraftWaiver;
use crate::document::Fields;
use crate::lang::RawTemplate;
use crate::quantity::Kind;
use crate::source::{Fault, Quoted, SourceText, Span};

/// One verb of the procedure language.
#[derive(Debug)]
pub struct Verb {
    /// The key that makes a step of this kind, and what it takes.
    pub key: Key,
    /// What it is for, in a sentence.
    pub sentence: &'static str,
    /// The keys it may have beside the common ones.
    pub keys: &'static [Key],
    /// Whether a person does or answers it, and so may skip it.
    pub(super) answered: bool,
    /// Reads its own keys.
    pub(super) draft: fn(&Fields<'_>, &Drafting<'_>) -> Option<DraftAction>,
}

impl Verb {
    /// The word that makes a step of this kind.
    pub fn word(&self) -> &'static str {
        self.key.name
    }

    /// Whether steps stand inside it.
    pub(super) fn has_steps(&self) -> bool {
        self.keys.iter().any(|key| key.name == super::keys::STEPS.name)
    }
}

/// What a step is, unchecked.
#[derive(Clone, Debug)]
pub(super) enum DraftAction {
    /// A part to be put in place before anything is checked.
    Part(DraftUse),
    /// Something of a verb's own.
    Own(Draft),
}

/// A part to be put in place.
#[derive(Clone, Debug)]
pub(super) struct DraftUse {
    /// The part's name, such as `parts/drain`.
    pub name: Quoted,
    /// What its own names are led by.
    pub prefix: Option<String>,
    /// What it is given, each under the name it takes it by.
    pub with: Vec<(Quoted, DraftExpr)>,
    /// The heading of the summary under which its answers stand, in place of its own.
    pub tells: Option<Quoted>,
}

/// What a verb read of its keys, as what is still to be done with it: to be checked.
#[derive(Clone)]
pub(super) struct Draft(pub Rc<CheckFn>);

/// Checks a draft, as part of the step it was read for.
type CheckFn = dyn Fn(&DraftStep, &mut Checking<'_>) -> Option<Arc<dyn Action>>;

impl fmt::Debug for Draft {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Draft(..)")
    }
}

impl DraftAction {
    /// An action, to be checked by `check`.
    pub(super) fn checked_by<A: Action + 'static>(
        check: impl Fn(&DraftStep, &mut Checking<'_>) -> Option<A> + 'static,
    ) -> Option<DraftAction> {
        let check = move |step: &DraftStep, checking: &mut Checking<'_>| -> Option<Arc<dyn Action>> {
            Some(Arc::new(check(step, checking)?))
        };
        Some(DraftAction::Own(Draft(Rc::new(check))))
    }
}

/// A step, its expressions unchecked.
#[derive(Clone, Debug)]
pub(super) struct DraftStep {
    pub source: SourceText,
    pub span: Span,
    pub id: Option<Id>,
    pub keys: DraftKeys,
    pub verb: &'static Verb,
    pub action: DraftAction,
    /// The steps inside it.
    pub body: Vec<Rc<DraftStep>>,
}

/// The keys of a step, whatever its verb.
#[derive(Clone, Debug, Default)]
pub(super) struct DraftKeys {
    pub label: Option<Quoted>,
    pub observes: Option<Quoted>,
    pub tells: Option<Quoted>,
    pub title: Option<RawTemplate>,
    pub when: Option<DraftExpr>,
    pub why: Option<RawTemplate>,
    pub repeated: Option<RawTemplate>,
    pub paper: Option<RawTemplate>,
    pub how: Option<RawTemplate>,
    pub needs: Vec<Quoted>,
    pub brings: Vec<Quoted>,
    pub undoes: Vec<Quoted>,
    pub hazards: Vec<&'static Hazard>,
    pub skip: bool,
    pub without: Vec<DraftWaiver>,
}

/// Steps and those inside them, in their order.
pub(super) fn flat(steps: &[Rc<DraftStep>]) -> Box<dyn Iterator<Item = &DraftStep> + '_> {
    Box::new(steps.iter().flat_map(|step| std::iter::once(&**step).chain(flat(&step.body))))
}

/// The parts that steps use, those inside loops too.
pub(super) fn uses(steps: &[Rc<DraftStep>]) -> impl Iterator<Item = &DraftUse> {
    flat(steps).filter_map(|step| match &step.action {
        DraftAction::Part(part) => Some(part),
        DraftAction::Own(_) => None,
    })
}

/// The step of that id, inside loops too.
pub(super) fn named_step<'d>(steps: &'d [Rc<DraftStep>], id: &str) -> Option<&'d DraftStep> {
    flat(steps).find(|step| step.id.as_ref().is_some_and(|known| *known.name == *id))
}

impl DraftStep {
    /// A fault about the step as a whole.
    pub(super) fn fault(&self, code: &'static str, message: impl Into<String>) -> Fault {
        Fault::new(code, &self.source, self.span, message)
    }

    /// Its id, as it is known where its part is used.
    pub(super) fn known_as(&self, checking: &Checking<'_>) -> Option<Id> {
        self.id.as_ref().map(|id| Id { name: checking.naming.own(&id.name).into(), ..id.clone() })
    }

    /// Makes its value known under its id.
    pub(super) fn define(&self, checking: &mut Checking<'_>, kind: &Kind) {
        if let Some(id) = self.known_as(checking) {
            checking.define(&id, kind, 1);
        }
    }
}
