//! A way of using a part.

use std::rc::Rc;

use super::draft::DraftFile;
use super::interface::written;
use super::naming::{Bound, Naming};
use super::step::LoopKind;
use crate::lang::{Expr, Node, Type};
use crate::record::Phase;

/// A way of using a part: what its names are outside, and what they are bound to.
#[derive(Clone, Debug)]
pub(super) struct Binding {
    pub naming: Rc<Naming>,
    /// What it takes under which name, and of which type; a number has no name.
    pub given: Vec<Option<(String, Type)>>,
    /// The loops around.
    pub loops: Vec<LoopKind>,
    /// The heading of the summary under which its answers stand.
    pub heading: Option<Phase>,
}

impl Binding {
    /// A part by itself: it is given exactly what it takes, and what is usual where it says so.
    pub(super) fn alone(file: &DraftFile) -> Binding {
        let (mut naming, mut given) = (Naming::default(), Vec::with_capacity(file.interface.takes.len()));
        for term in &file.interface.takes {
            let name = term.id.name.to_string();
            if !term.counts(&naming.bound) {
                given.push(None);
                continue;
            }
            match term.usual.as_ref().map(|usual| &usual.expr).filter(|usual| is_literal(usual)) {
                Some(usual) => {
                    naming.bound.push((name, Bound::Literal(usual.node.clone())));
                    given.push(None);
                }
                None => given.push(Some((name, term.ty.clone()))),
            }
        }
        Binding { naming: Rc::new(naming), given, loops: Vec::new(), heading: None }
    }

    /// The same in writing: two ways of using a part that do the same are written alike.
    pub(super) fn written(&self) -> String {
        let types: Vec<String> = self.given.iter().flatten().map(|(_, ty)| written(ty)).collect();
        format!("{} {:?} {:?} {}", self.naming.written(), self.loops, self.heading, types.join(","))
    }
}

/// Whether an expression is a number with its unit, a word, yes or no.
pub(super) fn is_literal(expr: &Expr) -> bool {
    match &expr.node {
        Node::Minus(inner) => matches!(inner.node, Node::Number(..)),
        Node::Number(..) | Node::Word(_) | Node::YesNo(_) => true,
        Node::Name(_) | Node::Known(..) | Node::Not(_) | Node::Binary(..) | Node::If(..) | Node::Call(..) => {
            false
        }
    }
}
