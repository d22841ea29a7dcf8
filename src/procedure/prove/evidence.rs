//! What must show a state that stands for a physical fact.
//!
//! That a step says `brings` makes nothing so. For the states on which other people's safety rests
//! this table says what a step must see, or do, before they count as brought about. A state that is not
//! here either makes work more careful, not less, or is the owner's own.

use super::prover::Prover;
use crate::lang::Expr;
use crate::procedure::shipped_states::bringers;
use crate::procedure::step::{Asks, Step};
use crate::source::Fault;
use crate::words::list;

/// What shows a state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum ShownBy {
    /// A `do` whose `status` is this word, seen and typed.
    Status(&'static str),
    /// A `do` with `see`: a person looked, and can say no.
    Seen,
    /// A `do` with `see` that needs this state.
    SeenAfter(&'static str),
    /// An act that ends this state.
    Ends(&'static str),
    /// An answer that is of this, or a check of one.
    Observes(&'static str),
}

use ShownBy::{Ends, Observes, Seen, SeenAfter, Status};

/// Each such state with what shows it; any one will do.
static EVIDENCE: &[(&str, &[ShownBy])] = &[
    ("pump_off", &[Status("off"), Ends("pump_on")]),
    ("pump_waits", &[Observes("cut_out"), Observes("pump_stop"), Seen]),
    (
        "pump_proven_off",
        &[Observes("pump_response"), Observes("breaker"), SeenAfter("pump_off"), SeenAfter("loose")],
    ),
    ("relief_guards", &[Observes("relief_valve"), Seen]),
    ("wires_dead", &[Status("dead")]),
    ("house_shut", &[Status("shut"), Seen]),
    ("hose_on", &[Seen]),
    ("drain_open", &[Status("open"), Seen]),
    ("drain_shut", &[Status("shut"), Ends("drain_open"), Seen]),
    ("drained", &[Observes("tank_sound"), Observes("weight"), Seen]),
    ("line_at_zero", &[Observes("resting_gauge"), Observes("line_pressure"), Seen]),
    ("gauges_proven", &[Observes("resting_gauge"), Observes("gauge_moves")]),
    ("bladder_tight", &[Observes("pin_test"), Observes("bubbles")]),
    ("precharge_set", &[Observes("precharge")]),
    ("under_pressure", &[Observes("cut_out"), Observes("line_pressure"), Observes("pump_response"), Seen]),
    ("pumped_up", &[Observes("cut_out"), Observes("pump_response"), Seen]),
    ("new_tank_joined", &[Observes("tank_replaced")]),
];

/// What shows a state that stands for a physical fact, in words; nothing for any other state.
pub fn shown_by(state: &str) -> Option<String> {
    Some(in_words(ways(state)?))
}

fn in_words(ways: &[ShownBy]) -> String {
    let observed: Vec<String> = ways
        .iter()
        .filter_map(|way| if let Observes(name) = way { Some(format!("`{name}`")) } else { None })
        .collect();
    let observed =
        (!observed.is_empty()).then(|| format!("an answer or a check of {}", list(&observed, "or")));
    let others = ways.iter().filter_map(|way| way.words());
    list(observed.into_iter().chain(others), "or")
}

fn ways(state: &str) -> Option<&'static [ShownBy]> {
    EVIDENCE.iter().find(|(known, _)| *known == state).map(|(_, ways)| *ways)
}

impl ShownBy {
    /// What it is, but for observables, which are told together.
    fn words(self) -> Option<String> {
        match self {
            Status(word) => Some(format!("a `do` with `status = \"{word}\"`")),
            Seen => Some("a `do` with `see`".to_string()),
            SeenAfter(state) => Some(format!("a `do` with `see` that needs `{state}`")),
            Ends(state) => Some(format!("a step that undoes `{state}`")),
            Observes(_) => None,
        }
    }
}

impl Prover<'_> {
    /// Tells of states that a step claims and that nothing in it can show.
    pub(super) fn evidence(&mut self, step: &Step) {
        // After a stop nothing more is done that could rest on it.
        if self.quiet > 0 || step.course().stops() {
            return;
        }
        for state in &step.brings {
            let Some(ways) = ways(state) else { continue };
            if !ways.iter().any(|way| self.shows(step, *way)) {
                let fault = not_shown(step, (state, self.means(state)), ways);
                self.fault(fault);
            }
        }
    }

    fn shows(&self, step: &Step, way: ShownBy) -> bool {
        let shows = step.course().asks().map(Asks::shows);
        let seen = || shows.as_ref().is_some_and(|it| it.see.is_some());
        let needs = |state: &str| step.needs.iter().any(|(needed, _)| **needed == *state);
        match way {
            Status(word) => shows.is_some_and(|it| it.status == Some(word)),
            Seen => seen(),
            SeenAfter(state) => seen() && needs(state),
            Ends(state) => shows.is_some() && step.undoes.iter().any(|undone| **undone == *state),
            Observes(observable) => self.is_of(step, observable),
        }
    }

    /// Whether a step's answer is of an observable, or compares one that is.
    fn is_of(&self, step: &Step, observable: &str) -> bool {
        let names = self.procedure.observing(observable);
        let compared = |expr: &Expr| names.iter().any(|name| speaks_of(expr, name));
        names.contains(&step.id) || step.course().checks().is_some_and(|check| compared(check.expr.expr()))
    }
}

/// Whether an expression looks at a name.
fn speaks_of(expr: &Expr, name: &str) -> bool {
    let mut found = false;
    expr.names(&mut |other, _| found |= other == name);
    found
}

fn not_shown(step: &Step, (state, means): (&str, &str), ways: &[ShownBy]) -> Fault {
    let part = bringers(state);
    let instead = part.first().map_or(String::new(), |part| format!("; `use = \"{part}\"` does it"));
    step.place()
        .fault("not-shown", format!("nothing in this step shows `{state}`"))
        .why(format!("It means: {means}. That a step says so does not make it so, and others rely on it."))
        .remedy(format!("let it be shown by {}{instead}", in_words(ways)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::observables::observable;

    #[test]
    fn every_row_speaks_of_things_there_are() {
        let states = crate::procedure::shipped("parts/states").unwrap().text;
        let is_state = |name: &str| states.contains(&format!("id = \"{name}\""));
        for (state, ways) in EVIDENCE {
            assert!(is_state(state), "{state}");
            for way in *ways {
                let known = match way {
                    Status(word) => ["off", "open", "shut", "dead"].contains(word),
                    Seen => true,
                    SeenAfter(state) | Ends(state) => is_state(state),
                    Observes(name) => observable(name).is_some(),
                };
                assert!(known, "{state}: {way:?}");
            }
        }
    }
}
