//! Checking: the names known so far, and the faults found on the way.

use std::collections::{BTreeMap, HashSet};
use std::sync::Arc;

use super::draft::{DraftExpr, DraftState, DraftText, fault_of};
use super::load::Path;
use crate::lang::{Checked, Collapse, Function, Problem, Scope, Template, Type, check};
use crate::quantity::Kind;
use crate::source::{Fault, Quoted, SourceText, Span};
use crate::words::did_you_mean;

/// A loop that is being checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Loop {
    Repeat,
    Each,
}

struct Name {
    ty: Type,
    source: SourceText,
    span: Span,
}

/// Everything known at one place of a procedure.
pub(super) struct Checking<'a> {
    names: BTreeMap<String, Name>,
    /// Ids of steps and facts with faults of their own: what speaks of them is not at fault.
    lost: HashSet<String>,
    loops: Vec<Loop>,
    states: HashSet<String>,
    paths: &'a [Path],
    faults: Vec<Fault>,
    /// The id of the step being checked, as a name for its value.
    pub id: Option<Quoted>,
    /// How many steps have been checked, for ids that the file does not give.
    pub count: usize,
}

impl<'a> Checking<'a> {
    pub fn new(paths: &'a [Path], states: &[DraftState], lost: Vec<String>) -> Checking<'a> {
        Checking {
            names: BTreeMap::new(),
            lost: lost.into_iter().collect(),
            loops: Vec::new(),
            states: states.iter().map(|state| state.id.text.clone()).collect(),
            paths,
            faults: Vec::new(),
            id: None,
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
            Ok(checked) => Some(checked.standing_in(&Arc::new(draft.quoted.clone()))),
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
    pub fn lose(&mut self, id: &Quoted) {
        if !self.names.contains_key(&id.text) {
            self.lost.insert(id.text.clone());
        }
    }

    /// Checks a yes/no expression.
    pub fn yes_no(&mut self, draft: &DraftExpr) -> Option<Checked> {
        self.expr(draft, Some(&Kind::YesNo))
    }

    /// Checks a text.
    pub fn text(&mut self, draft: &DraftText) -> Option<Template> {
        match draft.raw.check(&InScope(self)) {
            Ok(template) => Some(template.standing_in(&Arc::new(draft.quoted.clone()))),
            Err(problems) => {
                self.note(problems, &draft.quoted);
                None
            }
        }
    }

    /// Checks a text that may be absent; absent stays absent.
    pub fn optional_text(&mut self, draft: &Option<DraftText>) -> Option<Template> {
        draft.as_ref().and_then(|draft| self.text(draft))
    }

    /// Makes a name known; `times` readings of it make a series.
    pub fn define(&mut self, id: &Quoted, kind: &Kind, times: u32) {
        let ty = match (self.loops.contains(&Loop::Repeat), times) {
            (true, _) => Type::Series(kind.clone(), Collapse::Last),
            (false, 2..) => Type::Series(kind.clone(), Collapse::Mean),
            (false, _) => Type::One(kind.clone()),
        };
        let name = Name { ty, source: id.source.clone(), span: id.span };
        self.names.insert(id.text.clone(), name);
    }

    /// Makes the value of the step being checked known under its id.
    pub fn define_step(&mut self, kind: &Kind, times: u32) {
        if let Some(id) = self.id.clone() {
            self.define(&id, kind, times);
        }
    }

    /// Enters a loop.
    pub fn enter(&mut self, which: Loop) {
        self.loops.push(which);
    }

    /// Leaves the innermost loop; what was answered in an `each` is one answer a tank from now on.
    pub fn leave(&mut self, defined_before: &HashSet<String>) {
        if self.loops.pop() == Some(Loop::Each) {
            for (name, entry) in &mut self.names {
                if !defined_before.contains(name) {
                    entry.ty = Type::Series(entry.ty.kind().clone(), Collapse::No);
                }
            }
        }
    }

    /// The names known now.
    pub fn defined(&self) -> HashSet<String> {
        self.names.keys().cloned().collect()
    }

    /// Whether the place is inside an `each`.
    pub fn in_each(&self) -> bool {
        self.loops.contains(&Loop::Each)
    }

    /// Notes an id that was given before.
    pub fn unique(&mut self, id: &Quoted) -> bool {
        let Some(first) = self.names.get(&id.text) else { return true };
        let place = first.source.place(first.span.start);
        let where_first = format!("{}:{}", first.source.name(), place.line);
        self.faults.push(
            Fault::new("same-id", &id.source, id.span, format!("the id `{}` is taken already", id.text))
                .why(format!("It stands first at {where_first}; one name can only mean one thing."))
                .remedy("give this one another id, or use the part with `as`"),
        );
        false
    }

    /// States by their names; unknown ones are noted.
    pub fn states(&mut self, names: &[Quoted]) -> Vec<(Arc<str>, Span)> {
        for name in names.iter().filter(|name| !self.states.contains(&name.text)) {
            let known: Vec<&String> = self.states.iter().collect();
            self.faults.push(
                Fault::new(
                    "unknown-state",
                    &name.source,
                    name.span,
                    format!("there is no state `{}`", name.text.escape_debug()),
                )
                .why("A state must be declared with [[state]] before steps can speak of it.")
                .remedy(did_you_mean(&name.text, &sorted(&known))),
            );
        }
        names.iter().map(|name| (Arc::from(name.text.as_str()), name.span)).collect()
    }

    /// A word that must be an answer of `kind`.
    pub fn word_of(&mut self, word: &Quoted, kind: &Kind) -> Option<String> {
        let known: Vec<String> = match kind {
            Kind::OneOf(words) => words.iter().map(|w| w.to_string()).collect(),
            Kind::YesNo => vec!["yes".to_string(), "no".to_string()],
            _ => return Some(word.text.clone()),
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

fn sorted(names: &[&String]) -> Vec<String> {
    let mut names: Vec<String> = names.iter().map(ToString::to_string).collect();
    names.sort();
    names
}

/// The language's view of what is known.
struct InScope<'a, 'b>(&'b Checking<'a>);

impl Scope for InScope<'_, '_> {
    fn type_of(&self, name: &str) -> Option<Type> {
        self.0.names.get(name).map(|name| name.ty.clone())
    }

    fn names(&self) -> Vec<String> {
        self.0.names.keys().cloned().collect()
    }

    fn function(&self, name: &str) -> Option<&'static Function> {
        super::functions::function(name)
    }

    fn function_names(&self) -> Vec<&'static str> {
        super::functions::functions().map(|f| f.name).collect()
    }
}
