//! Checking: the names known so far, and the faults found on the way.

use std::borrow::Cow;
use std::cell::Cell;
use std::rc::Rc;
use std::sync::Arc;

use rustc_hash::{FxBuildHasher, FxHashMap, FxHashSet};

use super::drafting::{DraftExpr, Id, fault_of, rename};
use super::fold::{fold, yes_no};
use super::functions;
use super::leave_out::LeftOutPart;
use super::name_origin::{NameOrigin, missing_name};
use super::naming::Naming;
use super::step::{LoopKind, Step};
use super::surroundings::Path;
use super::verb::{DraftStep, DraftUse};
use crate::lang::{
    CheckedExpr, Collapse, Expr, Function, Problem, RawTemplate, Scope, Template, Type, check,
};
use crate::quantity::Kind;
use crate::record::Phase;
use crate::source::{Fault, Quoted};

struct Name {
    /// How many names were known before it.
    at: usize,
    ty: Type,
    id: Id,
    /// Whether something speaks of it.
    used: Cell<bool>,
}

/// Puts parts in their places while the steps around them are checked.
pub(super) trait PutsParts {
    /// The steps of a part, in place of the step that uses it.
    fn put(&self, user: &DraftStep, part: &DraftUse, checking: &mut Checking<'_>) -> Vec<Step>;
    /// Where a name that is not known comes from elsewhere, and what to do to have it.
    fn origin(&self, name: &str) -> Option<NameOrigin>;
}

/// Everything known at one place of a procedure.
pub(super) struct Checking<'a> {
    names: FxHashMap<Arc<str>, Name>,
    /// Ids of steps and facts with faults of their own: what speaks of them is not at fault.
    lost: FxHashSet<String>,
    /// Whether a part is not there, which was told: any name not known may be one that it gives.
    pub part_missing: bool,
    /// Names inside parts that those do not give.
    hidden: FxHashMap<Arc<str>, (Id, String)>,
    /// The facts, each with those that it looks at.
    facts: FxHashMap<Arc<str>, Vec<Arc<str>>>,
    loops: Vec<LoopKind>,
    /// Every state there is.
    pub states: Vec<Arc<str>>,
    /// What a system file may have.
    pub paths: &'a [Path],
    /// Where parts come from.
    pub loader: &'a dyn PutsParts,
    /// How the names of the file whose steps these are are known where it is used.
    pub naming: Rc<Naming>,
    /// The part whose steps these are; those without a name are named after it.
    pub part: Option<String>,
    /// Every fault found.
    pub faults: Vec<Fault>,
    /// The parts left out so far.
    pub left_out: Vec<LeftOutPart>,
    /// The names of the steps so far.
    pub ids: Vec<Id>,
    /// Where answers stand in the summary, in place of what the steps say.
    pub heading: Option<Phase>,
    /// The gauges that steps read from.
    pub gauges: Vec<String>,
    /// How many steps have been checked, for ids that the file does not give.
    pub count: usize,
}

impl<'a> Checking<'a> {
    /// Before anything is checked: the states there are, the ids that are lost already, and
    /// where parts come from.
    pub(super) fn new(
        (states, lost): (Vec<Arc<str>>, &[String]),
        loader: &'a dyn PutsParts,
        paths: &'a [Path],
    ) -> Checking<'a> {
        Checking {
            names: FxHashMap::with_capacity_and_hasher(64, FxBuildHasher),
            lost: lost.iter().cloned().collect(),
            part_missing: false,
            hidden: FxHashMap::default(),
            facts: FxHashMap::default(),
            loops: Vec::new(),
            states,
            paths,
            loader,
            faults: Vec::new(),
            naming: Rc::default(),
            part: None,
            left_out: Vec::new(),
            ids: Vec::new(),
            heading: None,
            gauges: Vec::new(),
            count: 0,
        }
    }

    pub(super) fn fault(&mut self, fault: Fault) {
        self.faults.push(fault);
    }

    /// Notes a fault that leaves nothing to go on with.
    pub(super) fn none<T>(&mut self, fault: Fault) -> Option<T> {
        self.faults.push(fault);
        None
    }

    /// The loops around, each sort once.
    pub(super) fn loops(&self) -> Vec<LoopKind> {
        [LoopKind::Repeat, LoopKind::Each].into_iter().filter(|each| self.loops.contains(each)).collect()
    }

    /// A name for a step that has none.
    pub(super) fn nameless(&mut self, verb: &str) -> Arc<str> {
        self.count += 1;
        match &self.part {
            Some(part) => format!("{verb}_{part}_{}", self.count).into(),
            None => format!("{verb}_{}", self.count).into(),
        }
    }

    /// The type of a name, when it is known here.
    pub(super) fn type_of(&self, name: &str) -> Option<Type> {
        self.find(name).map(|(_, ty)| ty)
    }

    /// Whether a name is not known through a fault that was told.
    pub(super) fn is_lost(&self, name: &str) -> bool {
        self.part_missing || self.lost.contains(name)
    }

    /// Whether a name is that of a fact.
    pub(super) fn is_fact(&self, name: &str) -> bool {
        self.facts.contains_key(name)
    }

    /// A fact was checked: notes what it looks at.
    pub(super) fn fact_done(&mut self, fact: &Arc<str>) {
        let looked_at = self.names.iter().filter(|(_, known)| known.used.replace(false));
        let looked_at = looked_at.map(|(name, _)| name.clone()).collect();
        self.facts.insert(fact.clone(), looked_at);
    }

    /// The facts that steps look at, and those that these look at.
    pub(super) fn facts_used(&self) -> FxHashSet<Arc<str>> {
        let looked_at = |name: &Arc<str>| self.names.get(name).is_some_and(|known| known.used.get());
        let mut open: Vec<&Arc<str>> = self.facts.keys().filter(|name| looked_at(name)).collect();
        let mut used = FxHashSet::default();
        while let Some(name) = open.pop() {
            if used.insert(name.clone()) {
                open.extend(self.facts.get(name).into_iter().flatten());
            }
        }
        used
    }

    /// Something looks at these names.
    pub(super) fn look_at(&self, names: &[Arc<str>]) {
        names.iter().filter_map(|name| self.names.get(name)).for_each(|name| name.used.set(true));
    }

    /// A name inside a part that does not give it.
    pub(super) fn hide(&mut self, id: &Id, part: &str) {
        self.hidden.insert(id.name.clone(), (id.clone(), part.to_string()));
    }

    /// A name that a file gives, as it is known where that file is used.
    pub(super) fn outside(&self, name: &Quoted) -> Quoted {
        Quoted { text: self.naming.own(&name.text), ..name.clone() }
    }

    /// An expression with its names as they are known where its file is used, and without what is decided there.
    pub(super) fn renamed(&self, expr: &Arc<Expr>) -> Arc<Expr> {
        if self.naming.is_plain() {
            return expr.clone();
        }
        let mut expr = (**expr).clone();
        self.rename(&mut expr);
        Arc::new(expr)
    }

    fn rename(&self, expr: &mut Expr) {
        rename(expr, &|name| self.naming.outside(name));
        if self.naming.decides() {
            fold(expr);
        }
    }

    /// The yes or no that a condition comes to by what the part is given alone.
    pub(super) fn decided(&self, condition: &DraftExpr) -> Option<bool> {
        if self.naming.is_plain() { None } else { yes_no(&self.renamed(&condition.expr)) }
    }

    /// Whether a condition, where there is one, never holds where its part is used.
    pub(super) fn never(&self, condition: Option<&DraftExpr>) -> bool {
        condition.and_then(|condition| self.decided(condition)) == Some(false)
    }

    /// Checks a condition; one that always holds where its part is used is none.
    pub(super) fn condition(&mut self, draft: &DraftExpr) -> Option<CheckedExpr> {
        if self.decided(draft) == Some(true) { None } else { self.yes_no(draft) }
    }

    /// Checks an expression.
    pub(super) fn expr(&mut self, draft: &DraftExpr, expected: Option<&Kind>) -> Option<CheckedExpr> {
        let expr = self.renamed(&draft.expr);
        let checked = check(&expr, &*self, expected, Some(&draft.quoted));
        checked.map_or_else(|problems| self.note(problems, &draft.quoted), Some)
    }

    /// Notes problems of an expression, but for names that are lost through another fault.
    fn note<T>(&mut self, problems: Vec<Problem>, quoted: &Quoted) -> Option<T> {
        for problem in problems {
            let name = quoted.text.get(problem.span.start..problem.span.end).unwrap_or("");
            if problem.code != "unknown-name" {
                self.faults.push(fault_of(problem, quoted));
            } else if let Some((_, part)) = self.hidden.get(name) {
                let why = format!("It is a name inside `{part}`, which does not give it.");
                let remedy = format!("let the part give it: add `{name}` to its `gives`");
                self.faults.push(fault_of(problem, quoted).why(why).remedy(remedy));
            } else if !self.is_lost(name) {
                self.faults.push(missing_name(fault_of(problem, quoted), self.loader.origin(name), name));
            }
        }
        None
    }

    /// Notes that a step has faults of its own; its name is lost unless it is known already.
    pub(super) fn lose(&mut self, id: &Id) {
        if !self.names.contains_key(&id.name) {
            self.lost.insert(id.name.to_string());
        }
    }

    /// Checks a yes/no expression.
    pub(super) fn yes_no(&mut self, draft: &DraftExpr) -> Option<CheckedExpr> {
        self.expr(draft, Some(&Kind::YesNo))
    }

    /// Checks a text.
    pub(super) fn text(&mut self, draft: &RawTemplate) -> Option<Template> {
        let mut text = Cow::Borrowed(draft);
        if !self.naming.is_plain() {
            text.to_mut().holes_mut().for_each(|hole| self.rename(hole));
        }
        text.check(&*self).map_or_else(|problems| self.note(problems, draft.origin()), Some)
    }

    /// Checks a text that may be absent; absent stays absent.
    pub(super) fn optional_text(&mut self, draft: &Option<RawTemplate>) -> Option<Template> {
        draft.as_ref().and_then(|draft| self.text(draft))
    }

    /// Makes a name known; `times` readings of it make a series.
    pub(super) fn define(&mut self, id: &Id, kind: &Kind, times: u32) {
        let ty = match (self.loops.contains(&LoopKind::Repeat), times) {
            (true, _) => Type::Series(kind.clone(), Collapse::Last),
            (false, 2..) => Type::Series(kind.clone(), Collapse::Mean),
            (false, _) => Type::One(kind.clone()),
        };
        self.define_as(id, ty);
    }

    /// Makes a name of a type known.
    pub(super) fn define_as(&mut self, id: &Id, ty: Type) {
        let at = self.names.get(&id.name).map_or(self.names.len(), |known| known.at);
        self.names.insert(id.name.clone(), Name { at, ty, id: id.clone(), used: Cell::new(false) });
    }

    /// Enters a loop.
    pub(super) fn enter(&mut self, which: LoopKind) {
        self.loops.push(which);
    }

    /// Leaves the innermost loop, before which so many names were known; what was answered in an
    /// `each` is one answer a tank from now on.
    pub(super) fn leave(&mut self, known_before: usize) {
        if self.loops.pop() == Some(LoopKind::Each) {
            for name in self.names.values_mut().filter(|name| name.at >= known_before) {
                name.ty = Type::Series(name.ty.kind().clone(), Collapse::No);
            }
        }
    }

    /// How many names are known now.
    pub(super) fn known(&self) -> usize {
        self.names.len()
    }

    /// Notes an id that was given before.
    pub(super) fn unique(&mut self, id: &Id) -> bool {
        let hidden = || self.hidden.get(&id.name).map(|(id, _)| id);
        let Some(first) = self.names.get(&id.name).map(|known| &known.id).or_else(hidden) else {
            return true;
        };
        let why = format!("It stands first at {}; one name can only mean one thing.", first.place.shown());
        let fault = id.place.fault("same-id", format!("the id `{}` is taken already", id.name)).why(why);
        self.faults.push(fault.remedy("give this one another id, or use the part with `as`"));
        false
    }
}

/// The language's view of what is known.
impl Scope for Checking<'_> {
    /// A name that is known here, which is spoken of, and its type.
    fn find(&self, name: &str) -> Option<(Arc<str>, Type)> {
        let (name, known) = self.names.get_key_value(name)?;
        known.used.set(true);
        Some((name.clone(), known.ty.clone()))
    }

    fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = self.names.keys().map(ToString::to_string).collect();
        names.sort();
        names
    }

    fn origin(&self, name: &str) -> Option<String> {
        self.names.get(name).map(|known| known.id.place.shown())
    }

    fn function(&self, name: &str) -> Option<&'static Function> {
        functions::function(name)
    }

    fn function_names(&self) -> Vec<&'static str> {
        functions::functions().map(|f| f.name).collect()
    }
}
