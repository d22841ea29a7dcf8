//! Drafting: strings of a file read as expressions and texts, not yet checked.

use std::cell::RefCell;
use std::sync::Arc;

use super::naming::Bound;
use super::place::SourcePlace;
use crate::document::{FaultCollector, Fields};
use crate::lang::{Expr, Node, Problem, RawTemplate, parse};
use crate::source::{Fault, Quoted};

/// An expression and the string it stands in; both are shared with what is checked.
#[derive(Clone, Debug)]
pub(super) struct DraftExpr {
    pub quoted: Arc<Quoted>,
    pub expr: Arc<Expr>,
}

/// A name given in a file.
#[derive(Clone, Debug)]
pub(super) struct Id {
    pub name: Arc<str>,
    pub place: SourcePlace,
}

impl From<Quoted> for Id {
    fn from(quoted: Quoted) -> Id {
        Id { name: Arc::from(quoted.text), place: SourcePlace { source: quoted.source, span: quoted.span } }
    }
}

/// Reads strings of one file as expressions and texts.
pub(super) struct Drafting<'a> {
    pub walk: &'a FaultCollector<'a>,
    /// Ids that could not be drafted.
    pub lost: RefCell<Vec<String>>,
}

impl Drafting<'_> {
    /// Reads the expression under `key`.
    pub(super) fn expr(&self, fields: &Fields<'_>, key: &str) -> Option<DraftExpr> {
        self.parsed(fields.text(key)?)
    }

    /// Reads a string as an expression.
    pub(super) fn parsed(&self, quoted: Quoted) -> Option<DraftExpr> {
        match parse(&quoted.text) {
            Ok(expr) => Some(DraftExpr { quoted: Arc::new(quoted), expr: Arc::new(expr) }),
            Err(problem) => self.walk.none(fault_of(problem, &quoted)),
        }
    }

    /// Reads the text under `key`.
    pub(super) fn text(&self, fields: &Fields<'_>, key: &str) -> Option<RawTemplate> {
        self.template(fields.text(key)?)
    }

    /// Reads the text under `key`, which must be there; `what` says what it is.
    pub(super) fn needed_text(&self, fields: &Fields<'_>, key: &str, what: &str) -> Option<RawTemplate> {
        self.template(fields.needed_text(key, what)?)
    }

    /// Reads a string as a text with holes.
    fn template(&self, quoted: Quoted) -> Option<RawTemplate> {
        let quoted = Arc::new(quoted);
        let note = |problems: Vec<Problem>| {
            problems.into_iter().for_each(|problem| self.walk.fault(fault_of(problem, &quoted)));
        };
        RawTemplate::parse(&quoted).map_err(note).ok()
    }

    /// Notes that what stands in `fields` could not be drafted.
    pub(super) fn lose(&self, fields: &Fields<'_>) {
        self.lost.borrow_mut().extend(fields.text("id").map(|id| id.text));
    }
}

/// Puts what stands for each name outside in its place.
pub(super) fn rename(expr: &mut Expr, outside: &dyn Fn(&str) -> Option<Bound>) {
    expr.each_operand_mut(&mut |operand| rename(operand, outside));
    let asks = matches!(expr.node, Node::Known(..));
    let (Node::Name(name) | Node::Known(name, _)) = &mut expr.node else { return };
    match outside(name) {
        Some(Bound::Name(new)) => *name = new,
        Some(Bound::Literal(literal)) => expr.node = if asks { Node::YesNo(true) } else { literal },
        None => {}
    }
}

/// Moves a problem from its expression to its place in the file.
pub(super) fn fault_of(problem: Problem, quoted: &Quoted) -> Fault {
    let mut fault = Fault::new(problem.code, &quoted.source, quoted.place(problem.span), problem.message)
        .label(problem.label)
        .remedy(problem.remedy);
    for note in problem.notes {
        fault = fault.mark(quoted.place(note.span), note.says);
    }
    fault
}

/// Whether a name may be an id: lower-case letters, digits and `_`, a letter first, no keyword.
pub(super) fn check_id(quoted: &Quoted, walk: &FaultCollector<'_>) -> bool {
    let text = &quoted.text;
    let shape = text.starts_with(|c: char| c.is_ascii_lowercase())
        && text.len() <= 60
        && text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
    let free = !crate::lang::KEYWORDS.contains(&text.as_str());
    if !(shape && free) {
        let fault = quoted.fault("bad-id", format!("`{}` cannot be an id", text.escape_debug()));
        let remedy = "use lower-case letters, digits and `_`, a letter first, and no word of the language";
        walk.fault(fault.why("An id is used as a name in expressions.").remedy(remedy));
    }
    shape && free
}
