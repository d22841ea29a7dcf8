//! Drafting: keys and strings of a file, expressions read but not yet checked.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

use smallvec::SmallVec;

use super::drafting::{Drafting, Id, check_id};
use super::facts::{self, DraftFact};
use super::hazards::{self, Hazard};
use super::interface::{self, DraftInterface};
use super::keys::{FILE_KEYS, PART_KEYS, STATE_KEYS, STEP_KEYS, names};
use super::limits::{DEEPEST_LOOPS, MOST_STEPS};
use super::model::State;
use super::steps::{VERBS, verb};
use super::verb::{DraftKeys, DraftStep, Verb};
use super::without;
use crate::document::Fields;
use crate::quantity::read_confidence;
use crate::source::Quoted;
use crate::words::{did_you_mean, list};

/// Everything a file says, before its steps are checked.
#[derive(Clone, Debug)]
pub(super) struct DraftFile {
    pub title: Option<Quoted>,
    pub report: Option<Quoted>,
    pub purpose: Option<Quoted>,
    pub time: Option<Quoted>,
    pub bring: Vec<Quoted>,
    pub confidence: Option<f64>,
    /// The parts it leaves out.
    pub leave_out: Vec<Quoted>,
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
    pub(super) fn declares(&self, fact: &str) -> bool {
        self.facts.iter().any(|own| *own.id.name == *fact)
    }
}

/// A state as declared.
#[derive(Clone, Debug)]
pub(super) struct DraftState {
    pub id: Id,
    pub state: Arc<State>,
}

/// Drafts a whole file.
pub(super) fn draft_file(root: &Fields<'_>) -> DraftFile {
    let mut known = names(FILE_KEYS.iter().chain(PART_KEYS));
    known.extend(["fact", "state", "step"]);
    root.only(&known);
    root.check_format();
    let drafting = Drafting { walk: root.walk(), lost: RefCell::default() };
    let facts = root.tables("fact").iter().filter_map(|fields| draft_fact(fields, &drafting)).collect();
    let steps = draft_steps(root, &drafting, 0);
    let sure = "write the probability at which a check may say pass or fail, such as \"95 %\"";
    DraftFile {
        title: root.needed_text("title", "what the procedure does, as a heading"),
        report: root.text("report"),
        purpose: root.needed_text("purpose", "what it is for, in a sentence"),
        time: root.text("time"),
        bring: root.texts("bring"),
        confidence: root.read("confidence", read_confidence, sure),
        leave_out: root.texts("leave_out"),
        facts,
        states: root.tables("state").iter().filter_map(draft_state).collect(),
        interface: interface::draft(root, &drafting),
        steps,
        lost: drafting.lost.into_inner(),
    }
}

fn draft_fact(fields: &Fields<'_>, drafting: &Drafting<'_>) -> Option<Rc<DraftFact>> {
    let draft = facts::draft(fields, drafting);
    if draft.is_none() {
        drafting.lose(fields);
    }
    draft.map(Rc::new)
}

fn draft_state(fields: &Fields<'_>) -> Option<DraftState> {
    fields.only(&names(STATE_KEYS));
    let id = fields.needed_text("id", "the state's name")?;
    let means = fields.needed_text("means", "what the state means, for a person")?.text;
    let [stands, undone] = ["stands", "undone"].map(|key| fields.text(key).map(|text| text.text));
    let hazards = hazards::draft(fields);
    check_id(&id, fields.walk()).then(|| {
        let id = Id::from(id);
        DraftState { state: Arc::new(State { id: id.name.clone(), means, stands, undone, hazards }), id }
    })
}

/// Drafts the `[[step]]` tables inside `fields`.
fn draft_steps(fields: &Fields<'_>, drafting: &Drafting<'_>, depth: usize) -> Vec<Rc<DraftStep>> {
    if depth > DEEPEST_LOOPS {
        let message = format!("loops stand more than {DEEPEST_LOOPS} deep in loops");
        let fault = fields.fault("too-deep", fields.span, message);
        return fields.walk().none(fault.remedy("take the inner steps out")).unwrap_or_default();
    }
    let tables = fields.tables("step");
    let mut steps = Vec::with_capacity(tables.len());
    // One more than there may be is enough to tell that there are too many.
    let few = tables.iter().take(MOST_STEPS + 1);
    steps.extend(few.filter_map(|step| draft_step(step, drafting, depth)).map(Rc::new));
    steps
}

fn draft_step(fields: &Fields<'_>, drafting: &Drafting<'_>, depth: usize) -> Option<DraftStep> {
    let id = fields.text("id").filter(|id| check_id(id, fields.walk()));
    let when = drafting.expr(fields, "when");
    let verb = the_verb(fields);
    let action = verb.and_then(|verb| (verb.draft)(fields, drafting));
    if action.is_none() {
        drafting.lose(fields);
    }
    Some(DraftStep {
        source: fields.source().clone(),
        span: fields.span,
        id: id.map(Id::from),
        keys: DraftKeys {
            label: fields.text("label"),
            observes: fields.text("observes"),
            tells: fields.text("tells"),
            title: drafting.text(fields, "title"),
            when,
            why: drafting.text(fields, "why"),
            repeated: drafting.text(fields, "repeated"),
            paper: drafting.text(fields, "paper"),
            how: drafting.text(fields, "how"),
            needs: fields.texts("needs"),
            brings: fields.texts("brings"),
            undoes: fields.texts("undoes"),
            hazards: step_hazards(fields),
            skip: fields.flag("skip"),
            without: without::draft(fields),
        },
        body: match verb {
            Some(verb) if verb.has_steps() => draft_body(verb, fields, drafting, depth),
            Some(_) | None => Vec::new(),
        },
        // What else the step has wrong with it is told too.
        verb: verb?,
        action: action?,
    })
}

/// The hazards of a step, which then cannot be skipped.
fn step_hazards(fields: &Fields<'_>) -> Vec<&'static Hazard> {
    let hazards = hazards::draft(fields);
    if !hazards.is_empty() && fields.flag("skip") {
        let message = "a step with a hazard can be skipped";
        let why = "Who skips the step may go on as if it had been done, and what can hurt is still there.";
        let fault = fields.fault("hazard-skippable", fields.key_span("hazards"), message).why(why);
        let remedy = "take `skip = true` out, or put the hazard at a step of its own";
        fields.walk().fault(fault.remedy(remedy));
    }
    hazards
}

fn draft_body(verb: &Verb, fields: &Fields<'_>, drafting: &Drafting<'_>, depth: usize) -> Vec<Rc<DraftStep>> {
    let body = draft_steps(fields, drafting, depth + 1);
    if body.is_empty() {
        fields.missing("step", &format!("[[step.step]] tables below the `{}`", verb.word()));
    }
    body
}

/// The one verb of a step; tells of keys that do not go with it.
fn the_verb(fields: &Fields<'_>) -> Option<&'static Verb> {
    let mut verbs: SmallVec<[&Verb; 2]> = fields.keys().filter_map(|(key, _)| verb(key)).collect();
    verbs.sort_by_key(|verb| fields.key_span(verb.word()));
    match verbs.as_slice() {
        [verb] => {
            let keys = || std::iter::once(&verb.key).chain(STEP_KEYS).chain(verb.keys);
            if !fields.keys().all(|(key, _)| keys().any(|known| known.name == key)) {
                fields.only(&names(keys()));
            }
            Some(verb)
        }
        [] => no_verb(fields),
        [first, second, ..] => {
            let message = format!("this step has two verbs, `{}` and `{}`", first.word(), second.word());
            let why = "A step is one thing; with two it would not be clear which comes first.";
            let fault = fields.fault("two-verbs", fields.key_span(second.word()), message).why(why);
            let fault = fault.mark(fields.key_span(first.word()), "the first");
            fields.walk().none(fault.remedy("make two steps of it"))
        }
    }
}

fn no_verb<T>(fields: &Fields<'_>) -> Option<T> {
    let words: Vec<&str> = VERBS.iter().map(Verb::word).collect();
    let known =
        |name: &str| STEP_KEYS.iter().chain(VERBS.iter().flat_map(|v| v.keys)).any(|k| k.name == name);
    let (span, remedy) = match fields.keys().find(|(key, _)| !known(key)) {
        Some((key, span)) => (span, did_you_mean(key, &words)),
        None => (fields.span, format!("add one of {}", list(&words, "or"))),
    };
    let fault = fields.fault("no-verb", span, "this step does not say what it is");
    fields.walk().none(fault.why("Exactly one verb makes a step.").remedy(remedy))
}
