//! Checking: the names known so far, and the faults found on the way.

use std::collections::hash_map::Entry;
use std::sync::Arc;

use rustc_hash::{FxBuildHasher, FxHashMap, FxHashSet};

use super::drafting::{DraftExpr, Id, fault_of};
use super::step::Loop;
use super::surroundings::Path;
use crate::lang::{Checked, Collapse, Function, Problem, RawTemplate, Scope, Template, Type, check};
use crate::quantity::Kind;
use crate::source::{Fault, Quoted, SourceText, Span};
use crate::words::did_you_mean;

struct Name {
    /// How many names were known before it.
    at: usize,
    ty: Type,
    source: SourceText,
    span: Span,
}

/// Everything known at one place of a procedure.
pub(super) struct Checking<'a> {
    names: FxHashMap<Arc<str>, Name>,
    /// Ids of steps and facts with faults of their own: what speaks of them is not at fault.
    lost: FxHashSet<String>,
    loops: Vec<Loop>,
    states: Vec<Arc<str>>,
    paths: &'a [Path],
    faults: Vec<Fault>,
    /// How many steps have been checked, for ids that the file does not give.
    pub count: usize,
}

impl<'a> Checking<'a> {
    /// Before anything is checked: the states there are, the ids that are lost already, and room
    /// for so many names.
    pub fn new((states, lost): (Vec<Arc<str>>, &[String]), paths: &'a [Path], names: usize) -> Checking<'a> {
        Checking {
            names: FxHashMap::with_capacity_and_hasher(names, FxBuildHasher),
            lost: lost.iter().cloned().collect(),
            loops: Vec::new(),
            states,
            paths,
            faults: Vec::new(),
            count: 0,
        }
    }

    pub fn fault(&mut self, fault: Fault) {
        self.faults.push(fault);
    }

    pub fn into_faults(self) -> Vec<Fault> {
        self.faults
    }

    /// Checks an expression.
    pub fn expr(&mut self, draft: &DraftExpr, wanted: Option<&Kind>) -> Option<Checked> {
        match check(&draft.expr, &InScope(self), wanted) {
            Ok(checked) => Some(checked.standing_in(&draft.quoted)),
            Err(problems) => {
                self.note(problems, &draft.quoted);
                None
            }
        }
    }

    /// Notes problems of an expression, but for names that are lost through another fault.
    fn note(&mut self, problems: Vec<Problem>, quoted: &Quoted) {
        for problem in problems {
            let name = quoted.text.get(problem.span.start..problem.span.end).unwrap_or("");
            if problem.code != "unknown-name" || !self.lost.contains(name) {
                self.faults.push(fault_of(problem, quoted));
            }
        }
    }

    /// Notes that a step has faults of its own; its name is lost unless it is known already.
    pub fn lose(&mut self, id: &Id) {
        if !self.names.contains_key(&id.name) {
            self.lost.insert(id.name.to_string());
        }
    }

    /// Checks a yes/no expression.
    pub fn yes_no(&mut self, draft: &DraftExpr) -> Option<Checked> {
        self.expr(draft, Some(&Kind::YesNo))
    }

    /// Checks a text.
    pub fn text(&mut self, draft: &RawTemplate) -> Option<Template> {
        match draft.check(&InScope(self)) {
            Ok(template) => Some(template),
            Err(problems) => {
                self.note(problems, draft.origin());
                None
            }
        }
    }

    /// Checks a text that may be absent; absent stays absent.
    pub fn optional_text(&mut self, draft: &Option<RawTemplate>) -> Option<Template> {
        draft.as_ref().and_then(|draft| self.text(draft))
    }

    /// Makes a name known; `times` readings of it make a series.
    pub fn define(&mut self, id: &Id, kind: &Kind, times: u32) {
        let ty = match (self.loops.contains(&Loop::Repeat), times) {
            (true, _) => Type::Series(kind.clone(), Collapse::Last),
            (false, 2..) => Type::Series(kind.clone(), Collapse::Mean),
            (false, _) => Type::One(kind.clone()),
        };
        let known = self.names.len();
        let (source, span) = (id.source.clone(), id.span);
        match self.names.entry(id.name.clone()) {
            Entry::Vacant(place) => {
                place.insert(Name { at: known, ty, source, span });
            }
            Entry::Occupied(mut place) => {
                let at = place.get().at;
                place.insert(Name { at, ty, source, span });
            }
        }
    }

    /// Enters a loop.
    pub fn enter(&mut self, which: Loop) {
        self.loops.push(which);
    }

    /// Leaves the innermost loop, before which so many names were known; what was answered in an
    /// `each` is one answer a tank from now on.
    pub fn leave(&mut self, known_before: usize) {
        if self.loops.pop() == Some(Loop::Each) {
            for name in self.names.values_mut().filter(|name| name.at >= known_before) {
                name.ty = Type::Series(name.ty.kind().clone(), Collapse::No);
            }
        }
    }

    /// How many names are known now.
    pub fn known(&self) -> usize {
        self.names.len()
    }

    /// Whether the place is inside an `each`.
    pub fn in_each(&self) -> bool {
        self.loops.contains(&Loop::Each)
    }

    /// Notes an id that was given before.
    pub fn unique(&mut self, id: &Id) -> bool {
        let Some(first) = self.names.get(&id.name) else { return true };
        let place = first.source.place(first.span.start);
        let where_first = format!("{}:{}", first.source.name(), place.line);
        self.faults.push(
            Fault::new("same-id", &id.source, id.span, format!("the id `{}` is taken already", id.name))
                .why(format!("It stands first at {where_first}; one name can only mean one thing."))
                .remedy("give this one another id, or use the part with `as`"),
        );
        false
    }

    /// States by their names; unknown ones are noted.
    pub fn states(&mut self, names: &[Quoted]) -> Vec<(Arc<str>, Span)> {
        names.iter().map(|name| (self.state(name), name.span)).collect()
    }

    fn state(&mut self, name: &Quoted) -> Arc<str> {
        if let Some(state) = self.states.iter().find(|state| ***state == name.text) {
            return state.clone();
        }
        let mut known = self.states.clone();
        known.sort();
        self.faults.push(
            Fault::new(
                "unknown-state",
                &name.source,
                name.span,
                format!("there is no state `{}`", name.text.escape_debug()),
            )
            .why("A state must be declared with [[state]] before steps can speak of it.")
            .remedy(did_you_mean(&name.text, &known)),
        );
        Arc::from(name.text.as_str())
    }

    /// One of several words with what each stands for; `says` what another one is not.
    pub fn one_of<T: Copy>(
        &mut self,
        word: &Quoted,
        known: &[(&str, T)],
        (code, says): (&'static str, &str),
    ) -> Option<T> {
        let found = known.iter().find(|(name, _)| *name == word.text).map(|(_, meant)| *meant);
        if found.is_none() {
            let message = format!("`{}` {says}", word.text.escape_debug());
            let names: Vec<&str> = known.iter().map(|(name, _)| *name).collect();
            self.faults.push(
                Fault::new(code, &word.source, word.span, message).remedy(did_you_mean(&word.text, &names)),
            );
        }
        found
    }

    /// A word that must be an answer of `kind`.
    pub fn word_of(&mut self, word: &Quoted, kind: &Kind) -> Option<String> {
        let known: Vec<String> = match kind {
            Kind::OneOf(words) => words.iter().map(ToString::to_string).collect(),
            Kind::YesNo => vec!["yes".to_string(), "no".to_string()],
            Kind::Measure(_) | Kind::Text => return Some(word.text.clone()),
        };
        if known.contains(&word.text) {
            return Some(word.text.clone());
        }
        self.faults.push(
            Fault::new(
                "unknown-word",
                &word.source,
                word.span,
                format!("'{}' is never the answer here", word.text.escape_debug()),
            )
            .remedy(did_you_mean(&word.text, &known)),
        );
        None
    }

    /// A path into the system file, which must exist and have the right kind.
    pub fn path(&mut self, from: &Quoted, kind: &Kind) {
        let Some(path) = self.paths.iter().find(|path| path.name == from.text) else {
            let known: Vec<&str> = self.paths.iter().map(|path| path.name).collect();
            self.faults.push(
                Fault::new(
                    "unknown-path",
                    &from.source,
                    from.span,
                    format!("a system file has no `{}`", from.text.escape_debug()),
                )
                .remedy(did_you_mean(&from.text, &known)),
            );
            return;
        };
        let same = match (&path.kind, kind) {
            (Kind::OneOf(theirs), Kind::OneOf(ours)) => theirs.iter().all(|word| ours.contains(word)),
            (a, b) => a == b,
        };
        if !same {
            self.faults.push(
                Fault::new(
                    "wrong-kind",
                    &from.source,
                    from.span,
                    format!("`{}` of the system file is {}, and the fact is {kind}", from.text, path.kind),
                )
                .remedy(format!("make the fact {}", path.kind)),
            );
        }
    }
}

/// The language's view of what is known.
struct InScope<'a, 'b>(&'b Checking<'a>);

impl Scope for InScope<'_, '_> {
    fn find(&self, name: &str) -> Option<(Arc<str>, Type)> {
        self.0.names.get_key_value(name).map(|(name, known)| (name.clone(), known.ty.clone()))
    }

    fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = self.0.names.keys().map(ToString::to_string).collect();
        names.sort();
        names
    }

    fn origin(&self, name: &str) -> Option<String> {
        let name = self.0.names.get(name)?;
        let line = name.source.place(name.span.start).line;
        Some(format!("{}:{line}", name.source.name()))
    }

    fn function(&self, name: &str) -> Option<&'static Function> {
        super::functions::function(name)
    }

    fn function_names(&self) -> Vec<&'static str> {
        super::functions::functions().map(|f| f.name).collect()
    }
}
