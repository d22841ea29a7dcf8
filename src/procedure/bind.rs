//! A part in its place: what it takes is bound, its steps stand in the user's.

use std::rc::Rc;
use std::sync::Arc;

use super::bind_words::{gives_nothing, gives_other, not_given, other_type, passed_over, too_many};
use super::binding::{Binding, is_literal};
use super::check_steps::{check_step, heading};
use super::checking::{Checking, PutsParts};
use super::contract::{Contract, Placed, Term};
use super::draft::DraftFile;
use super::drafting::{DraftExpr, Id};
use super::interface::{DraftContract, DraftTerm};
use super::leave_out::LeftOutPart;
use super::name_origin::{NameOrigin, missing_name};
use super::naming::{Bound, Naming};
use super::parts::Loader;
use super::place::SourcePlace;
use super::shelf::Part;
use super::step::Step;
use super::steps::{COMPUTE, computed};
use super::verb::{DraftKeys, DraftStep, DraftUse};
use crate::document::unknown_fault;
use crate::lang::{Collapse, Node, Scope, Type};
use crate::quantity::{Kind, Measure};
use crate::source::Quoted;

impl PutsParts for Loader<'_> {
    fn put(&self, user: &DraftStep, part: &DraftUse, checking: &mut Checking<'_>) -> Vec<Step> {
        bare(user, checking);
        let Some((source, file)) = self.head(&part.name) else {
            checking.part_missing = true;
            return Vec::new();
        };
        known_terms(part, &file, checking);
        if self.leaves_out(&part.name.text) {
            leave_out(part, &file, checking);
            return Vec::new();
        }
        let takes = &file.interface.takes;
        let Some((mut steps, bound, given)) = Bounds::all(takes, part, checking) else {
            promised(&file, part, checking);
            return Vec::new();
        };
        let mut naming = Naming { bound, ..checking.naming.inner(&part.prefix) };
        if naming.prefix.is_some() {
            naming.kept = self.facts_of(&source, &file).iter().map(ToString::to_string).collect();
            let same = takes.iter().zip(&given).filter_map(|(term, given)| {
                given.as_ref().filter(|(name, _)| *name == *term.id.name).map(|(name, _)| name.clone())
            });
            naming.kept.extend(same);
        }
        let heading = part.tells.as_ref().and_then(|word| heading(word, checking)).or(checking.heading);
        let binding = Binding { naming: Rc::new(naming), given, loops: checking.loops(), heading };
        match self.part(&source, binding) {
            Ok(made) => steps.extend(placed(self, (user, part), &made, checking)),
            Err(faults) => {
                faults.into_iter().for_each(|fault| checking.fault(fault));
                promised(&file, part, checking);
            }
        }
        steps
    }

    fn origin(&self, name: &str) -> Option<NameOrigin> {
        super::origin::origin(self, name)
    }
}

/// A part that is left out: what it gives is known by name, and has no value.
fn leave_out(part: &DraftUse, file: &DraftFile, checking: &mut Checking<'_>) {
    promised(file, part, checking);
    let naming = checking.naming.inner(&part.prefix);
    let gives = file.interface.gives.iter().map(|term| naming.own(&term.id.name).into());
    let brings = file.interface.brings.iter().map(|brings| Arc::from(brings.state.text.as_str()));
    let part = part.name.text.clone();
    checking.left_out.push(LeftOutPart { part, names: gives.collect(), states: brings.collect() });
}

/// A `use` step can have a title; conditions belong on the steps themselves.
fn bare(user: &DraftStep, checking: &mut Checking<'_>) {
    let DraftKeys { when, skip, needs, brings, undoes, hazards, .. } = &user.keys;
    let states = [needs, brings, undoes].into_iter().flatten().next();
    let asked = when.as_ref().is_some_and(|when| checking.decided(when).is_none());
    if asked || *skip || states.is_some() || !hazards.is_empty() || user.id.is_some() {
        let message = "a `use` step takes only `as`, `with`, `tells` and `title`";
        let why = "The steps of the part carry their own conditions and states.";
        let remedy = "write the condition on the part's steps";
        checking.fault(user.fault("use", message).why(why).remedy(remedy));
    }
}

/// Notes what is given to a part that does not take it.
fn known_terms(part: &DraftUse, file: &DraftFile, checking: &mut Checking<'_>) {
    let known: Vec<&str> = file.interface.takes.iter().map(|term| &*term.id.name).collect();
    for (key, _) in part.with.iter().filter(|(key, _)| !known.contains(&key.text.as_str())) {
        let message = format!("`{}` takes no `{}`", part.name.text, key.text.escape_debug());
        checking.fault(match known.as_slice() {
            [] => key.fault("not-taken", message).remedy("take it out: the part takes nothing"),
            _ => unknown_fault("not-taken", key, message, known.iter().copied()),
        });
    }
}

/// What a part that could not be put in place gives by its head: what speaks of it is not at fault.
fn promised(file: &DraftFile, part: &DraftUse, checking: &mut Checking<'_>) {
    let naming = checking.naming.inner(&part.prefix);
    for term in &file.interface.gives {
        let id = Id { name: naming.own(&term.id.name).into(), ..term.id.clone() };
        if checking.type_of(&id.name).is_none() {
            checking.define_as(&id, term.ty.clone());
        }
    }
}

/// Steps that work out what is given, what names are bound to, and what that is.
type AllBound = (Vec<Step>, Vec<(String, Bound)>, Vec<Option<(String, Type)>>);

/// What a part takes, bound one after the other.
struct Bounds<'a, 'c> {
    part: &'a DraftUse,
    checking: &'a mut Checking<'c>,
    /// Steps that work out what is given.
    steps: Vec<Step>,
    bound: Vec<(String, Bound)>,
    given: Vec<Option<(String, Type)>>,
}

impl Bounds<'_, '_> {
    /// Binds all that a part takes; `None` when some of it cannot be bound.
    fn all(takes: &[DraftTerm], part: &DraftUse, checking: &mut Checking<'_>) -> Option<AllBound> {
        let mut all = Bounds { part, checking, steps: Vec::new(), bound: Vec::new(), given: Vec::new() };
        let found: Vec<bool> = takes.iter().map(|term| all.bind(term).is_some()).collect();
        (!found.contains(&false)).then_some((all.steps, all.bound, all.given))
    }

    fn bind(&mut self, term: &DraftTerm) -> Option<()> {
        let name = &*term.id.name;
        if !term.counts(&self.bound) {
            self.given.push(None);
            return Some(());
        }
        if let Some((_, expr)) = self.part.with.iter().find(|(key, _)| key.text == *name) {
            return self.to(term, expr);
        }
        if let Some(usual) = &term.usual {
            self.not_passed_over(term, usual);
            return self.to(term, usual);
        }
        let label = self.checking.naming.outside(name).unwrap_or_else(|| Bound::Name(name.to_string()));
        self.known(term, label, &self.part.name)
    }

    /// The user's own name of the spelling would be passed over for what is usual: which of them is meant must be said.
    fn not_passed_over(&mut self, term: &DraftTerm, usual: &DraftExpr) {
        let name = &*term.id.name;
        let is_itself = matches!(&usual.expr.node, Node::Name(usual) if usual == name);
        if let Some(own) = self.checking.origin(name).filter(|_| !is_itself) {
            self.checking.fault(passed_over(self.part, term, (&own, usual)));
        }
    }

    /// Binds a term to a name, a number, or a value to be worked out first.
    fn to(&mut self, term: &DraftTerm, expr: &DraftExpr) -> Option<()> {
        let given = self.checking.renamed(&expr.expr);
        if let Node::Name(name) = &given.node {
            return self.known(term, Bound::Name(name.clone()), &expr.quoted);
        }
        if is_literal(&given) {
            self.checking.expr(expr, Some(term.ty.kind()))?;
            return self.known(term, Bound::Literal(given.node.clone()), &expr.quoted);
        }
        let name = Naming::default().inner(&self.part.prefix).own(&term.id.name);
        let id = Id { name: name.into(), ..term.id.clone() };
        let step = check_step(&silent(id, expr)?, self.checking)?;
        let name = step.id.to_string();
        self.steps.push(step);
        self.known(term, Bound::Name(name), &expr.quoted)
    }

    /// Binds a term to something whose type is looked up; `at` is where that was said.
    fn known(&mut self, term: &DraftTerm, bound: Bound, at: &Quoted) -> Option<()> {
        let name = term.id.name.to_string();
        let given = match &bound {
            Bound::Name(other) => Some((other.clone(), self.type_of(term, other, at)?)),
            Bound::Literal(_) => None,
        };
        if !matches!(&bound, Bound::Name(other) if *other == name) {
            self.bound.push((name, bound));
        }
        self.given.push(given);
        Some(())
    }

    /// The type of a name that serves as what a part takes.
    fn type_of(&mut self, term: &DraftTerm, name: &str, at: &Quoted) -> Option<Type> {
        match self.checking.type_of(name) {
            Some(ty) if serves(&ty, &term.ty) => Some(ty),
            Some(ty) => self.checking.none(other_type(self.part, term, (name, &ty), at)),
            None if self.checking.is_lost(name) => None,
            None => {
                let fault = not_given(self.part, term, name, at);
                self.checking.none(missing_name(fault, self.checking.loader.origin(name), name))
            }
        }
    }
}

/// Whether a value of one type may be given where a part takes the other.
pub(super) fn serves(given: &Type, accepted: &Type) -> bool {
    let kinds = match (given.kind(), accepted.kind()) {
        (Kind::OneOf(some), Kind::OneOf(all)) => some.iter().all(|word| all.contains(word)),
        (Kind::OneOf(_), Kind::Text) => true,
        (Kind::Measure(Measure::Count), Kind::Measure(Measure::Number)) => true,
        (a, b) => a == b,
    };
    let series = match (given, accepted) {
        (Type::Series(_, how), Type::One(_)) => *how != Collapse::No,
        (Type::Series(_, a), Type::Series(_, b)) => a == b,
        (Type::One(_), Type::One(_)) => true,
        (Type::One(_), Type::Series(..)) => false,
    };
    kinds && series
}

/// The steps of a part, ready to stand among the user's.
fn placed(
    loader: &Loader<'_>,
    (user, part): (&DraftStep, &DraftUse),
    made: &Rc<Part>,
    checking: &mut Checking<'_>,
) -> Vec<Step> {
    if !loader.counts(made.procedure.count()) {
        return checking.none(too_many(&user.source, user.span)).unwrap_or_default();
    }
    checking.look_at(&made.facts_used);
    checking.gauges.extend(made.gauges.iter().cloned());
    checking.left_out.extend(made.procedure.left_out.iter().cloned());
    let given = |id: &Id| made.interface.gives.iter().any(|term| term.id.name == id.name);
    for id in &made.inner {
        if checking.unique(id) && !given(id) {
            checking.hide(id, &made.interface.name);
        }
    }
    checking.ids.extend(made.inner.iter().cloned());
    made.interface.gives.iter().for_each(|term| checking.define_as(&term.id, term.ty.clone()));
    let mut steps = made.procedure.steps.clone();
    let title = checking.optional_text(&user.keys.title);
    let whole = steps.len();
    if let Some(first) = steps.first_mut() {
        first.title = first.title.take().or(title);
        let place = SourcePlace { source: user.source.clone(), span: part.name.span };
        first.part = Some(Arc::new(Placed { interface: made.interface.clone(), steps: whole, place }));
    }
    steps
}

/// A step that works out a value under a name, and says nothing of it.
fn silent(id: Id, expr: &DraftExpr) -> Option<DraftStep> {
    let SourcePlace { source, span } = id.place.clone();
    let action = computed(expr.clone(), None, None)?;
    let (keys, body) = Default::default();
    Some(DraftStep { source, span, id: Some(id), keys, verb: &COMPUTE, action, body })
}

/// What a part makes of its head while it is checked.
impl Checking<'_> {
    /// The states in its head that count, with the conditions under which they do.
    pub(super) fn contracts(&mut self, drafts: &[DraftContract]) -> Vec<Contract> {
        let mut contracts = Vec::with_capacity(drafts.len());
        for draft in drafts {
            if !self.never(draft.when.as_ref()) {
                contracts.push(Contract {
                    state: self.state(&draft.state),
                    when: draft.when.as_ref().and_then(|when| self.condition(when)),
                    place: SourcePlace { source: draft.state.source.clone(), span: draft.state.span },
                });
            }
        }
        contracts
    }

    /// Makes known what a part takes.
    pub(super) fn takes(&mut self, file: &DraftFile, binding: &Binding) -> Vec<Term> {
        let mut takes = Vec::with_capacity(file.interface.takes.len());
        for (term, given) in file.interface.takes.iter().zip(&binding.given) {
            if let Some(when) = &term.when {
                self.yes_no(when);
            }
            let Some((name, ty)) = given else { continue };
            let id = Id { name: name.as_str().into(), ..term.id.clone() };
            if self.is_fact(&id.name) {
                self.unique(&id);
            }
            self.define_as(&id, ty.clone());
            takes.push(Term { id, ty: ty.clone(), maybe: term.maybe });
        }
        takes
    }

    /// What a part gives: it must be there, and of the type it says.
    pub(super) fn gives(&mut self, file: &DraftFile, binding: &Binding) -> Vec<Term> {
        let is_outer = |name: &str| binding.given.iter().flatten().any(|(given, _)| given == name);
        let mut gives = Vec::with_capacity(file.interface.gives.len());
        for term in &file.interface.gives {
            if let Some(when) = &term.when {
                self.yes_no(when);
            }
            if !term.counts(&binding.naming.bound) {
                continue;
            }
            let id = Id { name: binding.naming.own(&term.id.name).into(), ..term.id.clone() };
            match self.type_of(&id.name) {
                Some(ty) if serves(&ty, &term.ty) && !is_outer(&id.name) => {
                    gives.push(Term { id, ty, maybe: term.maybe });
                }
                Some(ty) => self.fault(gives_other(term, &ty)),
                None if self.is_lost(&id.name) => {}
                None if term.maybe && binding.naming.decides() => {}
                None => self.fault(gives_nothing(term)),
            }
        }
        gives
    }
}
