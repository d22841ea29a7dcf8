//! Facts: what must be known before the first step.

use std::rc::Rc;
use std::sync::Arc;

use super::checking::Checking;
use super::drafting::{DraftExpr, Drafting, Id, check_id};
use super::fact::{Fact, Usual};
use super::keys::{FACT_KEYS, names};
use super::observables::Range;
use super::question::Limits;
use crate::document::{Fields, unknown_fault};
use crate::lang::parse;
use crate::quantity::Kind;
use crate::source::{Quoted, SourceText};

/// A fact, its expressions unchecked.
#[derive(Clone, Debug)]
pub(super) struct DraftFact {
    pub id: Id,
    kind: Kind,
    label: Option<Quoted>,
    observes: Option<Quoted>,
    ask: Quoted,
    from: Option<Quoted>,
    between: Option<DraftLimits>,
    usual: Option<DraftUsual>,
    unknown: bool,
    when: Option<DraftExpr>,
    why: Option<Quoted>,
}

#[derive(Clone, Debug)]
enum DraftUsual {
    Value(DraftExpr),
    Word(Quoted),
}

/// Two limits, unchecked.
#[derive(Clone, Debug)]
pub(super) struct DraftLimits {
    low: DraftExpr,
    high: DraftExpr,
}

impl PartialEq for DraftLimits {
    /// Equal as written, wherever they stand.
    fn eq(&self, other: &DraftLimits) -> bool {
        self.low.expr == other.low.expr && self.high.expr == other.high.expr
    }
}

/// Drafts one `[[fact]]`.
pub(super) fn draft(fields: &Fields<'_>, drafting: &Drafting<'_>) -> Option<DraftFact> {
    fields.only(&names(FACT_KEYS));
    let id = fields.needed_text("id", "the fact's name");
    let kind = kind(fields, "kind");
    let ask = fields.needed_text("ask", "the question, when it is not in the system file");
    let id = id.filter(|id| check_id(id, fields.walk()))?;
    let kind = kind?;
    let when = drafting.expr(fields, "when");
    if fields.has("when") && !fields.has("usual") && !fields.flag("unknown") {
        fields.missing("usual", "what stands when the fact is not asked for");
    }
    Some(DraftFact {
        id: id.into(),
        label: fields.text("label"),
        observes: fields.text("observes"),
        ask: ask?,
        from: fields.text("from"),
        between: limits(fields, drafting, "between"),
        usual: fields.text("usual").and_then(|quoted| match kind {
            Kind::Measure(_) => drafting.parsed(quoted).map(DraftUsual::Value),
            Kind::YesNo | Kind::Text | Kind::OneOf(_) => Some(DraftUsual::Word(quoted)),
        }),
        unknown: fields.flag("unknown"),
        when,
        why: fields.text("why"),
        kind,
    })
}

/// Reads a kind: a measure's name, `yes/no`, `text`, or a list of words.
pub(super) fn kind(fields: &Fields<'_>, key: &str) -> Option<Kind> {
    if fields.is_list(key) {
        let words: Vec<String> = fields.texts(key).into_iter().map(|word| word.text).collect();
        return Some(Kind::one_of(&words));
    }
    let quoted = fields.needed_text(key, A_KIND)?;
    named_kind(fields, &quoted, &quoted.text)
}

/// What a kind may be, for one that is missing.
pub(super) const A_KIND: &str = "such as \"pressure\", \"yes/no\" or a list of words";

/// The kind of that name, which stands in a text.
pub(super) fn named_kind(fields: &Fields<'_>, quoted: &Quoted, name: &str) -> Option<Kind> {
    Kind::named(name).or_else(|| {
        let message = format!("there is no kind `{}`", name.escape_debug());
        fields.walk().none(unknown_fault("unknown-kind", quoted, message, Kind::names()))
    })
}

/// Reads two limits: `["0 psi", "100 psi"]`.
pub(super) fn limits(fields: &Fields<'_>, drafting: &Drafting<'_>, key: &str) -> Option<DraftLimits> {
    if !fields.has(key) {
        return None;
    }
    let both = fields.texts(key);
    if let [low, high] = both.as_slice() {
        let (low, high) = (drafting.parsed(low.clone()), drafting.parsed(high.clone()));
        return Some(DraftLimits { low: low?, high: high? });
    }
    let fault = fields.fault("limits", fields.value_span(key), format!("`{key}` takes two values"));
    fields.walk().none(fault.remedy("write the lowest and the highest, as in [\"0 psi\", \"100 psi\"]"))
}

/// Two limits that the table of observables has.
fn limits_of(range: Range) -> Option<DraftLimits> {
    let [low, high] = range.ends().map(|end| {
        let source = SourceText::new("the table of observables", end.clone());
        let quoted = Quoted { span: (0..end.len()).into(), text: end, source };
        Some(DraftExpr { expr: Arc::new(parse(&quoted.text).ok()?), quoted: Arc::new(quoted) })
    });
    Some(DraftLimits { low: low?, high: high? })
}

/// Checks two limits, or those that are usual where the file has none, against the kind they bound.
pub(super) fn check_limits(
    own: &Option<DraftLimits>,
    usual: Option<Range>,
    kind: &Kind,
    checking: &mut Checking<'_>,
) -> Option<Limits> {
    let usual = usual.and_then(limits_of);
    let draft = own.as_ref().or(usual.as_ref())?;
    let low = checking.expr(&draft.low, Some(kind));
    let high = checking.expr(&draft.high, Some(kind));
    Some(Limits { low: low?, high: high? })
}

/// Checks facts in their order; what each looks at is remembered, so that it is asked as well.
pub(super) fn check_all(drafts: &[Rc<DraftFact>], checking: &mut Checking<'_>) -> Vec<Fact> {
    let mut facts = Vec::with_capacity(drafts.len());
    for fact in drafts {
        if checking.unique(&fact.id) {
            facts.extend(check(fact, checking));
            checking.fact_done(&fact.id.name);
        }
    }
    facts
}

/// Checks a fact and makes its name known.
fn check(draft: &DraftFact, checking: &mut Checking<'_>) -> Option<Fact> {
    let observes = draft.observes.as_ref().and_then(|name| checking.observed(name, &draft.kind));
    let possible = observes.and_then(|known| known.possible);
    let between = check_limits(&draft.between, possible, &draft.kind, checking);
    let usual = match &draft.usual {
        None => None,
        Some(DraftUsual::Value(expr)) => checking.expr(expr, Some(&draft.kind)).map(Usual::Value),
        Some(DraftUsual::Word(word)) => checking.word_of(word, &draft.kind).map(Usual::Word),
    };
    if let Some(from) = &draft.from {
        checking.path(from, &draft.kind);
    }
    let when = draft.when.as_ref().and_then(|when| checking.yes_no(when));
    checking.define(&draft.id, &draft.kind, 1);
    Some(Fact {
        observes,
        id: draft.id.name.clone(),
        label: draft.label.as_ref().map(|label| label.text.clone()),
        kind: draft.kind.clone(),
        ask: draft.ask.text.clone(),
        from: draft.from.as_ref().map(|from| Arc::from(from.text.as_str())),
        between,
        usual,
        unknown: draft.unknown,
        when,
        why: draft.why.as_ref().map(|why| why.text.clone()),
    })
}

impl DraftFact {
    /// Whether a later declaration says the same. The first may leave out where the system file has it: it is
    /// not looked up there then.
    pub(super) fn same_as(&self, other: &DraftFact) -> bool {
        self.kind == other.kind
            && self.ask.text == other.ask.text
            && (self.from.is_none()
                || self.from.as_ref().map(|f| &f.text) == other.from.as_ref().map(|f| &f.text))
            && self.between == other.between
    }
}
