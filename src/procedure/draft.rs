//! Drafting: keys and strings of a file, expressions read but not yet checked.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use super::facts::DraftFact;
use super::fold::{fold, yes_no};
use super::interface::{self, DraftInterface};
use super::naming::{Bound, Naming};
use super::steps::DraftAction;
use crate::document::{Fields, Walk};
use crate::lang::{Expr, Node, Problem, RawTemplate, parse};
use crate::quantity::read_confidence;
use crate::source::{Fault, Quoted, SourceText, Span};

/// An expression and the string it stands in; both are shared with what is checked.
#[derive(Clone, Debug)]
pub(super) struct DraftExpr {
    pub quoted: Arc<Quoted>,
    pub expr: Arc<Expr>,
}

/// A name given in a file, as it is known outside a part.
#[derive(Clone, Debug)]
pub(super) struct Id {
    pub name: Arc<str>,
    pub source: SourceText,
    pub span: Span,
}

impl From<Quoted> for Id {
    fn from(quoted: Quoted) -> Id {
        Id { name: Arc::from(quoted.text), source: quoted.source, span: quoted.span }
    }
}

/// Everything a file says, before its steps are checked.
#[derive(Clone, Debug)]
pub(super) struct DraftFile {
    pub title: Option<Quoted>,
    pub purpose: Option<Quoted>,
    pub time: Option<Quoted>,
    pub bring: Vec<Quoted>,
    pub confidence: Option<f64>,
    pub facts: Vec<Rc<DraftFact>>,
    pub states: Vec<DraftState>,
    /// What it takes and gives as a part.
    pub interface: DraftInterface,
    pub steps: Vec<Rc<DraftStep>>,
    /// Ids of facts and steps that could not be drafted; what speaks of them is not at fault.
    pub lost: Vec<String>,
}

impl DraftFile {
    /// Whether a fact is declared in this file itself.
    pub fn declares(&self, fact: &str) -> bool {
        self.facts.iter().any(|own| *own.id.name == *fact)
    }
}

/// A state as declared.
#[derive(Clone, Debug)]
pub(super) struct DraftState {
    pub id: Id,
    pub means: String,
    pub hazard: bool,
}

/// A step, its expressions unchecked.
#[derive(Clone, Debug)]
pub(super) struct DraftStep {
    pub source: SourceText,
    pub span: Span,
    pub id: Option<Id>,
    pub label: Option<Quoted>,
    pub tells: Option<Quoted>,
    pub title: Option<RawTemplate>,
    pub when: Option<DraftExpr>,
    pub why: Option<RawTemplate>,
    pub how: Option<RawTemplate>,
    pub needs: Vec<Quoted>,
    pub brings: Vec<Quoted>,
    pub undoes: Vec<Quoted>,
    pub skip: bool,
    pub action: DraftAction,
}

/// Reads strings of one file as expressions and texts.
pub(super) struct Drafting<'a> {
    pub walk: &'a Walk<'a>,
    /// How the names of a part are known where it is used.
    pub naming: Option<&'a Rc<Naming>>,
    /// Ids that could not be drafted.
    pub lost: RefCell<Vec<String>>,
}

impl Drafting<'_> {
    /// Reads the expression under `key`.
    pub fn expr(&self, fields: &Fields<'_>, key: &str) -> Option<DraftExpr> {
        self.parsed(fields.text(key)?)
    }

    /// Reads a string as an expression.
    pub fn parsed(&self, quoted: Quoted) -> Option<DraftExpr> {
        match parse(&quoted.text) {
            Ok(mut expr) => {
                self.rename(&mut expr);
                Some(DraftExpr { quoted: Arc::new(quoted), expr: Arc::new(expr) })
            }
            Err(problem) => {
                self.walk.fault(fault_of(problem, &quoted));
                None
            }
        }
    }

    /// Reads the text under `key`.
    pub fn text(&self, fields: &Fields<'_>, key: &str) -> Option<RawTemplate> {
        self.template(fields.text(key)?)
    }

    /// Reads a string as a text with holes.
    fn template(&self, quoted: Quoted) -> Option<RawTemplate> {
        let quoted = Arc::new(quoted);
        match RawTemplate::parse(&quoted) {
            Ok(mut raw) => {
                if self.naming.is_some() {
                    raw.holes_mut().for_each(|expr| self.rename(expr));
                }
                Some(raw)
            }
            Err(problems) => {
                problems.into_iter().for_each(|p| self.walk.fault(fault_of(p, &quoted)));
                None
            }
        }
    }

    /// Notes that what stands in `fields` could not be drafted.
    fn lose(&self, fields: &Fields<'_>) {
        self.lost.borrow_mut().extend(fields.text("id").map(|id| self.outside(id).text));
    }

    /// An id or name as it is known outside the part.
    pub fn outside(&self, mut quoted: Quoted) -> Quoted {
        if let Some(naming) = self.naming {
            quoted.text = naming.own(&quoted.text);
        }
        quoted
    }

    fn rename(&self, expr: &mut Expr) {
        if let Some(naming) = self.naming {
            rename(expr, &|name| naming.outside(name));
            if naming.decides() {
                fold(expr);
            }
        }
    }
}

fn rename(expr: &mut Expr, outside: &dyn Fn(&str) -> Option<Bound>) {
    match &mut expr.node {
        Node::Name(name) => match outside(name) {
            Some(Bound::Name(new)) => *name = new,
            Some(Bound::Literal(literal)) => expr.node = literal,
            None => {}
        },
        Node::Known(name, _) => match outside(name) {
            Some(Bound::Name(new)) => *name = new,
            Some(Bound::Literal(_)) => expr.node = Node::YesNo(true),
            None => {}
        },
        Node::Minus(x) | Node::Not(x) => rename(x, outside),
        Node::Binary(_, _, a, b) => {
            rename(a, outside);
            rename(b, outside);
        }
        Node::If(a, b, c) => {
            rename(a, outside);
            rename(b, outside);
            rename(c, outside);
        }
        Node::Call(_, _, arguments) => arguments.iter_mut().for_each(|x| rename(x, outside)),
        Node::Number(..) | Node::Word(_) | Node::YesNo(_) => {}
    }
}

/// Moves a problem from its expression to its place in the file.
pub(super) fn fault_of(problem: Problem, quoted: &Quoted) -> Fault {
    let mut fault = Fault::new(problem.code, &quoted.source, quoted.place(problem.span), problem.message)
        .here(problem.here)
        .remedy(problem.remedy);
    for note in problem.notes {
        fault = fault.mark(quoted.place(note.span), note.says);
    }
    fault
}

/// Whether a name may be an id: lower-case letters, digits and `_`, a letter first, no keyword.
pub(super) fn check_id(quoted: &Quoted, walk: &Walk<'_>) -> bool {
    let text = &quoted.text;
    let shape = text.starts_with(|c: char| c.is_ascii_lowercase())
        && text.len() <= 60
        && text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
    let free = !crate::lang::KEYWORDS.contains(&text.as_str());
    if !(shape && free) {
        walk.fault(
            Fault::new(
                "bad-id",
                &quoted.source,
                quoted.span,
                format!("`{}` cannot be an id", text.escape_debug()),
            )
            .why("An id is used as a name in expressions.")
            .remedy("use lower-case letters, digits and `_`, a letter first, and no word of the language"),
        );
    }
    shape && free
}

pub(super) const FILE_KEYS: &[&str] = &[
    "format",
    "title",
    "purpose",
    "time",
    "bring",
    "confidence",
    "states",
    "takes",
    "gives",
    "needs",
    "brings",
    "undoes",
    "fact",
    "state",
    "step",
];

/// Drafts a whole file.
pub(super) fn draft_file(root: &Fields<'_>, naming: Option<&Rc<Naming>>) -> DraftFile {
    root.only(FILE_KEYS);
    check_format(root);
    let drafting = Drafting { walk: root.walk(), naming, lost: RefCell::default() };
    let facts = root.tables("fact").iter().filter_map(|fields| draft_fact(fields, &drafting)).collect();
    let steps = draft_steps(root, &drafting, 0);
    DraftFile {
        title: root.needed_text("title", "what the procedure does, as a heading"),
        purpose: root.needed_text("purpose", "what it is for, in a sentence"),
        time: root.text("time"),
        bring: root.texts("bring"),
        confidence: confidence(root),
        facts,
        states: root.tables("state").iter().filter_map(draft_state).collect(),
        interface: interface::draft(root, &drafting),
        steps,
        lost: drafting.lost.into_inner(),
    }
}

fn draft_fact(fields: &Fields<'_>, drafting: &Drafting<'_>) -> Option<Rc<DraftFact>> {
    let draft = super::facts::draft(fields, drafting);
    if draft.is_none() {
        drafting.lose(fields);
    }
    draft.map(Rc::new)
}

fn check_format(root: &Fields<'_>) {
    match root.whole("format", 0..=u32::MAX) {
        Some(1) => {}
        Some(other) => root.walk().fault(
            Fault::new(
                "format",
                root.source(),
                root.value_span("format"),
                format!("this file is of format {other}, and this program reads format 1"),
            )
            .remedy("use a newer program, or write the file in format 1"),
        ),
        None if !root.has("format") => root.missing("format", "write `format = 1` at the top"),
        None => {}
    }
}

fn confidence(root: &Fields<'_>) -> Option<f64> {
    let remedy = "write the probability at which a check may say pass or fail, such as \"95 %\"";
    root.read("confidence", read_confidence, remedy)
}

fn draft_state(fields: &Fields<'_>) -> Option<DraftState> {
    fields.only(&["id", "means", "hazard"]);
    let id = fields.needed_text("id", "the state's name")?;
    let means = fields.needed_text("means", "what the state means, for a person")?;
    let hazard = fields.flag("hazard");
    check_id(&id, fields.walk()).then(|| DraftState { id: id.into(), means: means.text, hazard })
}

/// Drafts the `[[step]]` tables inside `fields`.
pub(super) fn draft_steps(fields: &Fields<'_>, drafting: &Drafting<'_>, depth: usize) -> Vec<Rc<DraftStep>> {
    if depth > super::limits::DEEPEST_LOOPS {
        let most = super::limits::DEEPEST_LOOPS;
        fields.walk().fault(
            Fault::new(
                "too-deep",
                fields.source(),
                fields.span,
                format!("loops stand more than {most} deep in loops"),
            )
            .remedy("take the inner steps out"),
        );
        return Vec::new();
    }
    let tables = fields.tables("step");
    let mut steps = Vec::with_capacity(tables.len());
    // One more than there may be is enough to tell that there are too many.
    let few = tables.iter().take(super::limits::MOST_STEPS + 1);
    steps.extend(few.filter_map(|step| draft_step(step, drafting, depth)).map(Rc::new));
    steps
}

fn draft_step(fields: &Fields<'_>, drafting: &Drafting<'_>, depth: usize) -> Option<DraftStep> {
    let id = fields.text("id").filter(|id| check_id(id, fields.walk()));
    let when = drafting.expr(fields, "when");
    let always = when.as_ref().and_then(|when| yes_no(&when.expr)).filter(|_| drafting.naming.is_some());
    if always == Some(false) {
        return None;
    }
    let action = super::steps::draft(fields, drafting, depth);
    if action.is_none() {
        drafting.lose(fields);
    }
    Some(DraftStep {
        source: fields.source().clone(),
        span: fields.span,
        id: id.map(|id| drafting.outside(id).into()),
        label: fields.text("label"),
        tells: fields.text("tells"),
        title: drafting.text(fields, "title"),
        when: when.filter(|_| always.is_none()),
        why: drafting.text(fields, "why"),
        how: drafting.text(fields, "how"),
        needs: fields.texts("needs"),
        brings: fields.texts("brings"),
        undoes: fields.texts("undoes"),
        skip: fields.flag("skip"),
        action: action?,
    })
}
