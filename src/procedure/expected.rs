//! Words that must be one of those there are: states, headings, answers, paths of the system file.

use std::sync::Arc;

use super::checking::Checking;
use super::observables::{OBSERVABLES, Observable, observable};
use super::shipped_states::shipped_states;
use crate::document::unknown_fault;
use crate::quantity::Kind;
use crate::source::Quoted;
use crate::words::{did_you_mean, near};

/// Which state was meant: one of the file's, or one of those that come with the program.
fn state_meant(name: &str, known: &[Arc<str>]) -> String {
    let own = near(name, known.iter().map(AsRef::as_ref));
    match near(name, shipped_states()).filter(|_| own.is_none()) {
        Some(near) => format!(
            "did you mean `{near}`? It comes with the program: write `states = \"parts/states\"` at the top"
        ),
        None => did_you_mean(name, known),
    }
}

impl Checking<'_> {
    /// States by their names; unknown ones are noted.
    pub(super) fn states(&mut self, names: &[Quoted]) -> Vec<Arc<str>> {
        names.iter().map(|name| self.state(name)).collect()
    }

    pub(super) fn state(&mut self, name: &Quoted) -> Arc<str> {
        if let Some(state) = self.states.iter().find(|state| ***state == name.text) {
            return state.clone();
        }
        let mut known = self.states.clone();
        known.sort();
        let message = format!("there is no state `{}`", name.text.escape_debug());
        let why = "A state must be declared with [[state]] before steps can speak of it.";
        let fault = name.fault("unknown-state", message).why(why).remedy(state_meant(&name.text, &known));
        self.fault(fault.cause(format!("state {}", name.text)));
        Arc::from(name.text.as_str())
    }

    /// One of several words with what each stands for; `says` what another one is not.
    pub(super) fn one_of<T: Copy>(
        &mut self,
        word: &Quoted,
        known: &[(&str, T)],
        (code, says): (&'static str, &str),
    ) -> Option<T> {
        let found = known.iter().find(|(name, _)| *name == word.text).map(|(_, meant)| *meant);
        found.or_else(|| {
            let message = format!("`{}` {says}", word.text.escape_debug());
            self.none(unknown_fault(code, word, message, known.iter().map(|(name, _)| *name)))
        })
    }

    /// The observable that a file names, of which an answer of `kind` can be.
    pub(super) fn observed(&mut self, name: &Quoted, kind: &Kind) -> Option<&'static Observable> {
        let Some(found) = observable(&name.text) else {
            let message = format!("there is no observable `{}`", name.text.escape_debug());
            let known = OBSERVABLES.iter().map(|known| known.name);
            let fault = unknown_fault("unknown-observable", name, message, known);
            return self
                .none(fault.why("Pairs, trends, figures and the questions about odd readings go by it."));
        };
        if found.observed.fits(kind) {
            return Some(found);
        }
        let message = format!("`{}` is {}, and this answer is {kind}", name.text, found.observed);
        let remedy = "see `tankhand guide observables`, or take `observes` out";
        self.none(name.fault("other-observable", message).remedy(remedy))
    }

    /// A word that must be an answer of `kind`.
    pub(super) fn word_of(&mut self, word: &Quoted, kind: &Kind) -> Option<String> {
        let known: Vec<String> = match kind {
            Kind::OneOf(words) => words.iter().map(ToString::to_string).collect(),
            Kind::YesNo => vec!["yes".to_string(), "no".to_string()],
            Kind::Measure(_) | Kind::Text => return Some(word.text.clone()),
        };
        if known.contains(&word.text) {
            return Some(word.text.clone());
        }
        let message = format!("'{}' is never the answer here", word.text.escape_debug());
        self.none(unknown_fault("unknown-word", word, message, known.iter().map(String::as_str)))
    }

    /// A path into the system file, which must exist and have the right kind.
    pub(super) fn path(&mut self, from: &Quoted, kind: &Kind) {
        let Some(path) = self.paths.iter().find(|path| path.name == from.text) else {
            let message = format!("a system file has no `{}`", from.text.escape_debug());
            let known = self.paths.iter().map(|path| path.name);
            return self.fault(unknown_fault("unknown-path", from, message, known));
        };
        let same = match (&path.kind, kind) {
            (Kind::OneOf(theirs), Kind::OneOf(ours)) => theirs.iter().all(|word| ours.contains(word)),
            (a, b) => a == b,
        };
        if !same {
            let message =
                format!("`{}` of the system file is {}, and the fact is {kind}", from.text, path.kind);
            self.fault(from.fault("wrong-kind", message).remedy(format!("make the fact {}", path.kind)));
        }
    }
}
