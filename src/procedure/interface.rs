//! What a part takes from its user and gives back: drafted from the head of its file.

use super::drafting::{DraftExpr, Drafting, Id, check_id, rename};
use super::facts;
use super::fold::{fold, yes_no};
use super::keys::{TERM_KEYS, names};
use super::naming::Bound;
use crate::document::{Fields, unknown_fault};
use crate::lang::{Collapse, Type};
use crate::quantity::Kind;
use crate::source::{Quoted, Span};

/// The head of a part, its conditions unchecked.
#[derive(Clone, Debug)]
pub(super) struct DraftInterface {
    /// The file whose states count here too.
    pub states: Option<Quoted>,
    pub takes: Vec<DraftTerm>,
    pub gives: Vec<DraftTerm>,
    pub needs: Vec<DraftContract>,
    pub brings: Vec<DraftContract>,
    pub undoes: Vec<DraftContract>,
    /// Where the head stands.
    pub span: Span,
}

impl DraftInterface {
    /// Whether the file is a part: whether it says what it takes, gives or relies on.
    pub(super) fn is_stated(&self) -> bool {
        let contracts = [&self.needs, &self.brings, &self.undoes];
        !self.takes.is_empty() || !self.gives.is_empty() || contracts.iter().any(|c| !c.is_empty())
    }
}

/// A name that a part takes or gives.
#[derive(Clone, Debug)]
pub(super) struct DraftTerm {
    /// As it stands in the file.
    pub id: Id,
    pub ty: Type,
    /// It may have no value.
    pub maybe: bool,
    /// What stands for it when the user binds nothing to it.
    pub usual: Option<DraftExpr>,
    /// With which words, yes or no given to the part it counts.
    pub when: Option<DraftExpr>,
}

/// A state in the head of a part, and when it counts.
#[derive(Clone, Debug)]
pub(super) struct DraftContract {
    pub state: Quoted,
    pub when: Option<DraftExpr>,
}

impl DraftTerm {
    /// Whether it is taken or given at all where the part is given these words, yes and no.
    pub(super) fn counts(&self, bound: &[(String, Bound)]) -> bool {
        let Some(when) = &self.when else { return true };
        let mut when = (*when.expr).clone();
        let given =
            |name: &str| bound.iter().find(|(of_term, _)| of_term == name).map(|(_, bound)| bound.clone());
        rename(&mut when, &|name| given(name).filter(|bound| matches!(bound, Bound::Literal(_))));
        fold(&mut when);
        yes_no(&when) != Some(false)
    }

    /// `cut_in (pressure)`, as a person reads it.
    pub(super) fn written(&self) -> String {
        let maybe = if self.maybe { "maybe " } else { "" };
        let usual = self.usual.as_ref().map_or(String::new(), |usual| format!(", usually {}", usual.expr));
        let when = self.when.as_ref().map_or(String::new(), |when| format!(", if {}", when.expr));
        format!("{} ({maybe}{}{usual}{when})", self.id.name, written(&self.ty))
    }
}

impl DraftContract {
    /// `drained`, or `jet_unfilled if pump_kind == 'jet'`.
    pub(super) fn written(&self) -> String {
        let when = self.when.as_ref().map_or(String::new(), |when| format!(" if {}", when.expr));
        format!("{}{when}", self.state.text)
    }
}

/// Drafts the keys of a part.
pub(super) fn draft(root: &Fields<'_>, drafting: &Drafting<'_>) -> DraftInterface {
    let [takes, gives] = ["takes", "gives"].map(|key| terms(root, key, drafting));
    let [needs, brings, undoes] = ["needs", "brings", "undoes"]
        .map(|key| root.texts(key).into_iter().filter_map(|text| contract(text, drafting)).collect());
    let (states, span) = (root.text("states"), root.key_span("title"));
    DraftInterface { states, takes, gives, needs, brings, undoes, span }
}

/// `"drained"`, or `"jet_unfilled if pump_kind == 'jet'"`.
fn contract(text: Quoted, drafting: &Drafting<'_>) -> Option<DraftContract> {
    let Some((state, condition)) = text.text.split_once(" if ") else {
        return Some(DraftContract { state: text, when: None });
    };
    let when = drafting.parsed(text.part(text.text.len() - condition.len()..text.text.len()))?;
    Some(DraftContract { state: text.part(0..state.len()), when: Some(when) })
}

fn terms(root: &Fields<'_>, key: &str, drafting: &Drafting<'_>) -> Vec<DraftTerm> {
    let Some(table) = root.table(key) else { return Vec::new() };
    let mut names: Vec<(String, Span)> = table.keys().map(|(name, span)| (name.to_string(), span)).collect();
    names.sort_by_key(|(_, span)| span.start);
    names.into_iter().filter_map(|(name, span)| term((name, span), &table, drafting)).collect()
}

fn term((name, span): (String, Span), table: &Fields<'_>, drafting: &Drafting<'_>) -> Option<DraftTerm> {
    let quoted = Quoted { text: name.clone(), span, source: table.source().clone() };
    let id = check_id(&quoted, table.walk()).then(|| Id::from(quoted))?;
    if !table.is_table(&name) {
        let (ty, maybe) = kind(table, &name)?;
        return Some(DraftTerm { id, ty, maybe, usual: None, when: None });
    }
    let inner = table.table(&name)?;
    inner.only(&names(TERM_KEYS));
    let (ty, maybe) = kind(&inner, "kind")?;
    let [usual, when] = ["usual", "when"].map(|key| drafting.expr(&inner, key));
    Some(DraftTerm { id, ty, maybe: maybe || inner.flag("maybe"), usual, when })
}

/// A kind as a part's head writes it: `"pressure"`, `"maybe pressure"`, `"pressure of each tank"`,
/// or a list of words.
fn kind(fields: &Fields<'_>, key: &str) -> Option<(Type, bool)> {
    if fields.is_list(key) {
        return facts::kind(fields, key).map(|kind| (Type::One(kind), false));
    }
    let quoted = fields.needed_text(key, facts::A_KIND)?;
    let rest = quoted.text.strip_prefix("maybe ");
    let (maybe, rest) = (rest.is_some(), rest.unwrap_or(&quoted.text));
    let (name, each) = rest.split_once(" of each ").map_or((rest, None), |(name, each)| (name, Some(each)));
    let kind = facts::named_kind(fields, &quoted, name)?;
    let Some(each) = each else { return Some((Type::One(kind), maybe)) };
    let how = SERIES.iter().find(|(word, _)| *word == each);
    let (_, how) = how.or_else(|| {
        let message = format!("there is no series `of each {}`", each.escape_debug());
        let words = SERIES.iter().map(|(word, _)| *word);
        fields.walk().none(unknown_fault("unknown-kind", &quoted, message, words))
    })?;
    Some((Type::Series(kind, *how), maybe))
}

/// What there may be several answers for, and how the series serves as one.
const SERIES: &[(&str, Collapse)] =
    &[("tank", Collapse::No), ("reading", Collapse::Mean), ("round", Collapse::Last)];

/// A type as a part's head writes it.
pub(super) fn written(ty: &Type) -> String {
    let kind = match ty.kind() {
        Kind::Measure(measure) => measure.name().to_string(),
        Kind::YesNo => "yes/no".to_string(),
        Kind::Text => "text".to_string(),
        Kind::OneOf(words) => crate::words::list(words.iter(), "or"),
    };
    let each = match ty {
        Type::One(_) => None,
        Type::Series(_, how) => SERIES.iter().find(|(_, each)| each == how),
    };
    each.map_or(kind.clone(), |(each, _)| format!("{kind} of each {each}"))
}
