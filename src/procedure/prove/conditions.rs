//! Conditions: what a `when` asked for, at one moment of the walk.
//!
//! A condition is a spelled expression with the version of every name in it, numbered. The same
//! words after one of their names was answered anew are another condition, so what was concluded
//! from the old one falls away by itself. A condition and its opposite differ in the lowest bit.

use std::collections::hash_map::Entry;
use std::sync::Arc;

use rustc_hash::FxHashMap;
use smallvec::SmallVec;

use super::spelling::{Spelled, canonical, is_word};
use crate::lang::{Binary, Expr, Node};
use crate::quantity::{Kind, Words};

/// A condition at one moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) struct Condition(u32);

impl Condition {
    /// What holds when this one does not.
    pub(super) fn opposite(self) -> Condition {
        Condition(self.0 ^ 1)
    }
}

/// Conditions that hold together, sorted; empty means always. Few are ever asked for at once.
pub(super) type Guard = SmallVec<[Condition; 4]>;

/// The guard of both.
pub(super) fn both(a: &[Condition], b: &[Condition]) -> Guard {
    let mut guard = Guard::from_slice(a);
    guard.extend_from_slice(b);
    guard.sort_unstable();
    guard.dedup();
    guard
}

/// Every condition met so far.
#[derive(Default)]
pub(super) struct Conditions {
    /// The numbers of conditions, as they are spelled.
    numbers: FxHashMap<Spelled, u32>,
    /// The conditions that a name has a value, at each of its versions.
    known: FxHashMap<String, Vec<(u32, Condition)>>,
    /// How many conditions there are.
    count: u32,
    words: FxHashMap<Condition, String>,
    /// The other words that a name may be instead, for a condition that it is one of them.
    others: FxHashMap<Condition, Vec<Condition>>,
    /// What there is to choose from, for each name that is one of several words.
    choices: FxHashMap<Arc<str>, Words>,
}

impl Conditions {
    /// No conditions yet, and the words that names may be.
    pub(super) fn new(choices: FxHashMap<Arc<str>, Words>) -> Conditions {
        Conditions { choices, ..Conditions::default() }
    }

    /// The condition that an expression states, its names at the versions given; its `not`s
    /// were taken off before.
    pub(super) fn of(&mut self, expr: &Expr, version: &dyn Fn(&str) -> u32) -> Condition {
        if let Node::Known(name, _) = &expr.node {
            return self.known(name, version(name));
        }
        let (key, opposite) = canonical(expr, version);
        let condition = self.numbered(key, opposite);
        if let Entry::Vacant(words) = self.words.entry(condition) {
            words.insert(expr.to_string());
            self.choice(expr, version);
        }
        condition
    }

    /// Of `name == 'word'` or its opposite: notes what else the name may be.
    fn choice(&mut self, expr: &Expr, version: &dyn Fn(&str) -> u32) {
        let Some((name, words)) = chosen(expr).and_then(|name| self.choices.get_key_value(name)) else {
            return;
        };
        let (key, version) = (name.clone(), version(name));
        let all: Vec<Condition> = words
            .clone()
            .iter()
            .map(|word| {
                let condition = self.numbered(is_word(&key, word, version), false);
                self.words.entry(condition).or_insert_with(|| format!("{key} == '{word}'"));
                condition
            })
            .collect();
        for one in &all {
            self.others.insert(*one, all.iter().filter(|other| *other != one).copied().collect());
        }
    }

    /// The conditions of which one holds when this one does not, when they are known by name.
    pub(super) fn others(&self, condition: Condition) -> &[Condition] {
        self.others.get(&condition).map_or(&[], Vec::as_slice)
    }

    /// Whether both cannot hold together.
    pub(super) fn exclude(&self, a: &[Condition], b: &[Condition]) -> bool {
        a.iter().any(|condition| {
            b.contains(&condition.opposite()) || self.others(*condition).iter().any(|other| b.contains(other))
        })
    }

    /// The condition that a name has a value.
    pub(super) fn known(&mut self, name: &str, version: u32) -> Condition {
        if let Some(condition) = self.met_known(name, version) {
            return condition;
        }
        let condition = self.next();
        self.known.entry(name.to_string()).or_default().push((version, condition));
        condition
    }

    /// The condition that a name has a value, when it was met before.
    pub(super) fn met_known(&self, name: &str, version: u32) -> Option<Condition> {
        let versions = self.known.get(name)?;
        versions.iter().find(|(met, _)| *met == version).map(|(_, condition)| *condition)
    }

    fn numbered(&mut self, key: Spelled, opposite: bool) -> Condition {
        let number = match self.numbers.get(&key) {
            Some(number) => *number,
            None => {
                let number = self.next().0;
                self.numbers.insert(key, number);
                number
            }
        };
        Condition(number | u32::from(opposite))
    }

    /// A condition that nothing can ask for.
    pub(super) fn fresh(&mut self) -> Condition {
        self.next()
    }

    /// Notes the words that a name may be.
    pub(super) fn chosen_from(&mut self, name: &Arc<str>, kind: &Kind) {
        if let Kind::OneOf(words) = kind {
            self.choices.insert(name.clone(), words.clone());
        }
    }

    fn next(&mut self) -> Condition {
        self.count += 1;
        Condition(self.count * 2)
    }

    /// Conditions in the words of the file.
    pub(super) fn all_words(&self, guard: &[Condition]) -> String {
        let words: Vec<String> = guard.iter().map(|c| format!("`{}`", self.words(*c))).collect();
        crate::words::list(&words, "and")
    }

    fn words(&self, condition: Condition) -> String {
        match (self.words.get(&condition), self.words.get(&condition.opposite())) {
            (Some(words), _) => words.clone(),
            (None, Some(words)) => format!("not ({words})"),
            (None, None) => self.known_words(condition),
        }
    }

    fn known_words(&self, condition: Condition) -> String {
        let is = |versions: &[(u32, Condition)], c: Condition| versions.iter().any(|(_, met)| *met == c);
        let name = |c| self.known.iter().find(|(_, versions)| is(versions, c)).map(|(name, _)| name);
        match (name(condition), name(condition.opposite())) {
            (Some(name), _) => format!("known({name})"),
            (None, Some(name)) => format!("not known({name})"),
            (None, None) => String::new(),
        }
    }
}

/// The conditions that certainly hold when `expr` is `outcome`: the operands of its `and`s, or
/// of its `or`s when it is false.
pub(super) fn parts(expr: &Expr, outcome: bool) -> Vec<(&Expr, bool)> {
    match (&expr.node, outcome) {
        (Node::Not(inner), _) => parts(inner, !outcome),
        (Node::Binary(Binary::And, _, a, b), true) | (Node::Binary(Binary::Or, _, a, b), false) => {
            let mut all = parts(a, outcome);
            all.extend(parts(b, outcome));
            all
        }
        _ => vec![(expr, outcome)],
    }
}

/// The name in `name == 'word'` or `name != 'word'`.
fn chosen(expr: &Expr) -> Option<&str> {
    let Node::Binary(Binary::Compare(_), _, a, b) = &expr.node else { return None };
    match (&a.node, &b.node) {
        (Node::Name(name), Node::Word(_)) => Some(name),
        _ => None,
    }
}
