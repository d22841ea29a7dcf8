//! The faults of this folder in words.

use std::sync::Arc;

use super::evidence::shown_by;
use super::examine::{MaybeUndefined, Missing};
use super::names::{Answered, NameFacts};
use super::prover::Prover;
use super::states::StateChange;
use crate::lang::CheckedExpr;
use crate::procedure::contract::{Interface, Term};
use crate::procedure::hazards::Hazard;
use crate::procedure::no_value::NoValue;
use crate::procedure::place::SourcePlace;
use crate::procedure::shipped::part_name;
use crate::procedure::shipped_states::bringers;
use crate::procedure::shown::Use;
use crate::procedure::step::Step;
use crate::procedure::steps::verb as known_verb;
use crate::source::{Fault, SourceText, Span};
use crate::words::list;

impl Use {
    /// Whether a value that cannot be told would change what is done, and not only what is said.
    pub fn must_be_defined(self) -> bool {
        matches!(self, Use::When | Use::Until | Use::Wait)
    }

    fn without_a_value(self) -> &'static str {
        match self {
            Use::When => "A step whose condition cannot be told is left out.",
            Use::Until => "Rounds whose end cannot be told go on to the last.",
            Use::Wait => "A wait whose length cannot be told is no wait.",
            Use::Text | Use::Value => "",
        }
    }

    fn remedy(self, name: &str) -> String {
        match self {
            Use::When | Use::Until => format!("write `known({name}) and …`"),
            Use::Text => {
                format!("add `when = \"known({name})\"` to this step, or say it without `{name}`")
            }
            Use::Wait | Use::Value => {
                format!(
                    "add `when = \"known({name})\"` to this step, or write `if known({name}) then … else …`"
                )
            }
        }
    }
}

/// A step's id, or what it is where the file gives none.
pub(super) fn named(step: &Step) -> String {
    let (verb, number) = step.id.rsplit_once('_').unwrap_or((&step.id, ""));
    let given = number.is_empty() || !number.bytes().all(|byte| byte.is_ascii_digit());
    if given || known_verb(verb).is_none() { format!("`{}`", step.id) } else { format!("a `{verb}` step") }
}

impl Prover<'_> {
    /// A name that was not answered on some path.
    pub(super) fn missing(&self, checked: &CheckedExpr, missing: &Missing, used: Use) -> Option<Fault> {
        let (source, span) = checked.place(missing.span)?;
        let name = &missing.name;
        let why = self.names.get(name).map(|named| self.why_missing(name, named)).unwrap_or_default();
        let message = format!("`{name}` may not be known here");
        Some(Fault::new("maybe-unknown", source, span, message).why(why).remedy(used.remedy(name)))
    }

    pub(super) fn why_missing(&self, name: &str, named: &NameFacts) -> String {
        let at = named.place.as_ref().map(|place| format!(" ({})", place.shown())).unwrap_or_default();
        match &named.answered {
            Answered::When(guard) => {
                let asked = self.conditions.all_words(&self.context.missing(guard));
                format!("`{name}` is only answered when {asked}{at}, and this place does not ask for that.")
            }
            Answered::UnlessSkipped => format!("`{name}` may be skipped{at}."),
            Answered::IfAnyRound(place) => {
                format!("`{name}` is answered in a loop that may have no round ({}).", place.shown())
            }
            Answered::NotYet => format!("`{name}` is not answered yet in this round{at}."),
            Answered::Perhaps => format!("The part's head says that `{name}` may have no value{at}."),
        }
    }

    /// A part that may have no value, where one is needed to decide.
    pub(super) fn maybe_undefined(
        &self,
        checked: &CheckedExpr,
        undefined: &MaybeUndefined,
        used: Use,
    ) -> Option<Fault> {
        let (source, span) = checked.place(undefined.span)?;
        let (message, rests, remedy) = match &undefined.name {
            Some(name) => (
                format!("`{name}` may have no value here"),
                format!(", and `{name}` rests on it"),
                format!(
                    "write `known({name}) and …`, or ask for `known({name})` before, in a `check` with `must = true`"
                ),
            ),
            None => (
                "this may have no value".to_string(),
                String::new(),
                "work it out in a `compute` step of its own, and ask for `known(…)` of that".to_string(),
            ),
        };
        let why = format!("{}{rests}. {}", undefined.limit, used.without_a_value());
        let fault = Fault::new("maybe-unknown", source, span, message).why(why).remedy(remedy);
        Some(or_left_out(fault, Some(&undefined.limit), undefined.name.as_deref().unwrap_or("a value")))
    }

    /// A state that is needed and may not hold.
    pub(super) fn needs_state(&self, state: &Arc<str>, at: &SourcePlace) -> Fault {
        let (means, past) = (self.means(state), self.past(state));
        let bring = bring_about(state);
        let remedy = match &past {
            Some(StateChange::LeftOut(part)) => return leaves_state(part, (state, means), at),
            None | Some(StateChange::Ended(..)) => bring,
            Some(StateChange::BroughtWhen(..)) => {
                format!("ask for the same in this step's `when`, or {bring}")
            }
            Some(StateChange::BroughtUnless(..)) => {
                format!("let a `check` with `must = true` bring it about, or {bring}")
            }
        };
        let why = self.why_not(past.as_ref());
        at.fault("needs-state", format!("`{state}` may not hold here"))
            .why(format!("It means: {means}. {}", capitalised(&why)))
            .remedy(remedy)
            .cause(format!("state {state}: {why}"))
    }

    /// A state that a part's head says it brings about, and that may not hold at its end.
    pub(super) fn not_brought(&self, state: &Arc<str>, at: &SourcePlace) -> Fault {
        let (means, past) = (self.means(state), self.past(state));
        let why = match &past {
            Some(StateChange::LeftOut(part)) => return leaves_state(part, (state, means), at),
            None => "No step of the part brings it about.".to_string(),
            past => capitalised(&self.why_not(past.as_ref())),
        };
        at.fault("not-brought", format!("`{state}` may not hold at the end of this part"))
            .why(format!("It means: {means}. {why}"))
            .remedy(format!("bring it about on every path, or write when: \"{state} if …\""))
    }

    /// A state that may have ended in a part, though its head does not say so.
    pub(super) fn not_undone(&self, state: &str, head: &SourcePlace) -> Fault {
        let past = self.states.get(state).and_then(|standing| standing.past.as_ref());
        let why = capitalised(&self.why_not(past));
        head.fault("not-undone", format!("this part may end `{state}`, and its head does not say so"))
            .why(format!("It means: {}. {why}", self.means(state)))
            .remedy(format!(
                "add \"{state}\" to the `undoes` at the top, with `if …` where it is only sometimes"
            ))
    }

    /// Why a state may not hold, from what was done to it last.
    fn why_not(&self, past: Option<&StateChange>) -> String {
        match past {
            None => "No step before this one brings it about.".to_string(),
            Some(StateChange::LeftOut(part)) => {
                format!("{part}, which brings it about, is left out by this file.")
            }
            Some(StateChange::Ended(step, at)) => format!("{step} ends it ({}).", at.shown()),
            Some(StateChange::BroughtWhen(step, at, guard)) => {
                let when = self.conditions.all_words(guard);
                format!("{step} brings it about only when {when} ({}).", at.shown())
            }
            Some(StateChange::BroughtUnless(step, at, unless)) => {
                format!("{step} brings it about, but {unless} ({}).", at.shown())
            }
        }
    }
}

/// A part that is left out, and that would bring about a state that something needs.
fn leaves_state(part: &str, (state, means): (&str, &str), at: &SourcePlace) -> Fault {
    cannot_leave_out(part, (&at.source, at.span), format!("It brings about `{state}`: {means}."))
}

/// A name that is never known where a step waits for it.
pub(super) fn never_known((source, span): (&SourceText, Span), name: &str, why: String) -> Fault {
    Fault::new("never-known", source, span, format!("`{name}` is never known here, so the step is always left out"))
        .why(why)
        .remedy(format!("put the step where `{name}` is known, ask in its `when` for what it is answered under, or take it out"))
        .cause(format!("never {name}"))
}

/// The same fault, or where it only comes of a part that is left out, one that says so.
pub(super) fn or_left_out(fault: Fault, limit: Option<&NoValue>, name: &str) -> Fault {
    let Some(NoValue::LeftOut(part)) = limit else { return fault };
    cannot_leave_out(part, (&fault.source, fault.span), format!("`{name}` comes from it, and decides here."))
}

/// A part that is left out and that something rests on.
fn cannot_leave_out(part: &str, (source, span): (&SourceText, Span), why: String) -> Fault {
    let short = part_name(part);
    let message = format!("`{short}` cannot be left out: what stands here needs it");
    let remedy =
        format!("take \"{short}\" out of `leave_out`, or copy the file that is marked and let it do without");
    Fault::new("cannot-leave-out", source, span, message)
        .why(why)
        .remedy(remedy)
        .cause(format!("left out {part}"))
}

/// What to write so that a state holds.
fn bring_about(state: &str) -> String {
    match (bringers(state).as_slice(), shown_by(state)) {
        ([], Some(shown)) => format!("show it before this step, by {shown}"),
        ([], None) => format!("let the step that does it, before this one, say `brings = [\"{state}\"]`"),
        ([part], _) => format!("put `use = \"{part}\"` before this step: it brings it about"),
        ([part, others @ ..], _) => {
            let others: Vec<String> = others.iter().take(2).map(|part| format!("`{part}`")).collect();
            format!(
                "put `use = \"{part}\"` before this step: it brings it about, as does {}",
                list(&others, "or")
            )
        }
    }
}

/// A name that a part says it gives, and that may have no value at its end.
pub(super) fn gives_perhaps(term: &Term, why: String) -> Fault {
    let message = format!("`{}` may have no value at the end of this part", term.id.name);
    let remedy = "write `maybe` before its kind, or let every path answer it";
    term.id.place.fault("gives-perhaps", message).why(why).remedy(remedy)
}

/// A name that is given to a part, and that may have no value there.
pub(super) fn given_perhaps(interface: &Interface, term: &Term, at: &SourcePlace, why: String) -> Fault {
    let message = format!("`{}` takes `{}`, which may have no value here", interface.name, term.id.name);
    at.fault("given-perhaps", message)
        .why(why)
        .remedy("ask for it before, in a `check` with `must = true`, or let the part take it as `maybe`")
}

fn capitalised(sentence: &str) -> String {
    match sentence.strip_prefix("a `") {
        Some(rest) => format!("A `{rest}"),
        None => sentence.to_string(),
    }
}

/// Work that can hurt, and nobody may have been warned.
pub(super) fn hazard_not_shown(at: &SourcePlace, hazard: &Hazard, state: Option<(&str, &str)>) -> Fault {
    let id = hazard.id;
    let message = match state {
        Some((state, _)) => {
            format!("`{state}` has the hazard `{id}`, whose message may not have been shown before")
        }
        None => format!("this part meets the hazard `{id}`, whose message may not have been shown before"),
    };
    let means = state.map_or(String::new(), |(_, means)| format!("It means: {means}. "));
    at.fault("hazard", message)
        .why(format!("{means}Whoever does this must have read what can hurt there: {}", hazard.is))
        .remedy(format!("add `hazards = [\"{id}\"]` to this step or to one before it, on every path"))
}

/// Steps after the certain end of the work.
pub(super) fn unreachable(end: &Step, next: &Step) -> Fault {
    let at = end.place().shown();
    next.place()
        .fault("unreachable", "this step can never be reached")
        .why(format!("{} ends the work before it, whatever was answered ({at}).", capitalised(&named(end))))
        .remedy("give the `stop` a `when`, or take the steps after it out")
}
