//! How the names of a part are known where it is used.

use std::fmt::Write;

use rustc_hash::FxHashSet;

use crate::lang::Node;

/// What stands for a name of a part.
#[derive(Clone, Debug)]
pub(super) enum Bound {
    /// Another name.
    Name(String),
    /// A number, a word, yes or no.
    Literal(Node),
}

/// How the names of a part are known where it is used.
#[derive(Clone, Debug, Default)]
pub(super) struct Naming {
    /// What its own names are led by, or followed by when it begins with `_`; several are told
    /// apart by spaces, the innermost first.
    pub prefix: Option<String>,
    /// The names that keep their spelling: facts, and what it takes under the user's own name.
    pub kept: FxHashSet<String>,
    /// What it takes under another name, or as a number.
    pub bound: Vec<(String, Bound)>,
}

impl Naming {
    /// What stands for a name of the part where it is used; `None` when it keeps its spelling.
    pub(super) fn outside(&self, name: &str) -> Option<Bound> {
        if let Some((_, bound)) = self.bound.iter().find(|(term, _)| term == name) {
            return Some(bound.clone());
        }
        let led = self.prefix.is_some() && !self.kept.contains(name);
        led.then(|| Bound::Name(self.own(name)))
    }

    /// How the names of a part that this one uses are known where this one is used: a prefix inside a part that
    /// has one itself comes before that.
    pub(super) fn inner(&self, prefix: &Option<String>) -> Naming {
        let both = [prefix, &self.prefix].into_iter().flatten().cloned().collect::<Vec<_>>();
        Naming { prefix: (!both.is_empty()).then(|| both.join(" ")), ..Naming::default() }
    }

    /// A name that the part makes itself.
    pub(super) fn own(&self, name: &str) -> String {
        self.prefix.iter().flat_map(|prefix| prefix.split(' ')).fold(name.to_string(), |name, prefix| {
            if prefix.starts_with('_') { format!("{name}{prefix}") } else { format!("{prefix}_{name}") }
        })
    }

    /// Whether a word, a yes or a no is given, which may decide conditions.
    pub(super) fn decides(&self) -> bool {
        let decides = |bound: &Bound| matches!(bound, Bound::Literal(Node::Word(_) | Node::YesNo(_)));
        self.bound.iter().any(|(_, bound)| decides(bound))
    }

    /// Whether every name keeps its spelling.
    pub(super) fn is_plain(&self) -> bool {
        self.prefix.is_none() && self.bound.is_empty()
    }

    /// The same in writing: two namings that do the same are written alike.
    pub(super) fn written(&self) -> String {
        let mut written = self.prefix.clone().unwrap_or_default();
        for (name, bound) in &self.bound {
            // Writing to a text cannot fail.
            let _ = match bound {
                Bound::Name(other) => write!(written, " {name}={other}"),
                Bound::Literal(Node::Number(number, unit)) => {
                    write!(written, " {name}={number}{}", unit.map_or("", |unit| unit.symbol))
                }
                Bound::Literal(node) => write!(written, " {name}={node:?}"),
            };
        }
        written
    }
}
