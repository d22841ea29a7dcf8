//! What a procedure set out to test before a diagnosis: it goes by what its steps are of, whether or not they
//! were answered, and leaves out what this installation cannot tell.

use super::evidence_items::{NUMBERS, WORDS, is_of_stage};
use super::observations::Observation;
use super::run::Run;
use crate::physics::diagnosis::{Item, is_answer};
use crate::procedure::{Observable, Step};
use crate::quantity::Kind;
use crate::record::Phase;

/// What can be asked of one tank only, or not of several together.
const OF_ONE_TANK: &[Item] = &[
    Item::RunTime,
    Item::OtherTanks,
    Item::Pin,
    Item::AddedAir,
    Item::Sound,
    Item::Soap,
    Item::Weighed,
    Item::Earlier,
];

impl Run {
    /// The newest word about an observable.
    pub(super) fn newest_word(&self, observable: &str) -> Option<&str> {
        self.state.observations.iter().rev().find(|seen| seen.observable == observable)?.word()
    }

    /// Whether other tanks work beside this one, so that water and run time are not its own.
    pub(super) fn several_tanks(&self) -> bool {
        self.newest_word("other_tanks").is_some_and(|word| word == "yes")
            || (self.setting.procedure.goes_round() && self.setting.system.tanks.len() > 1)
    }

    /// Whether a diagnosis here is of all tanks of the line together.
    pub(super) fn is_whole_line(&self) -> bool {
        let goes_round = self.setting.procedure.goes_round() && self.setting.system.tanks.len() > 1;
        goes_round && self.state.frames.tank().is_none()
    }

    /// Whether a pressure of the switch was seen while the pump had power, and not only told of.
    pub(super) fn was_watched(&self, seen: &Observation) -> bool {
        let known = self.setting.procedure.states.iter().any(|it| *it.id == *"pump_on");
        seen.is_read() && (!known || seen.during("pump_on"))
    }

    /// Whether the nuts of the switch were turned.
    pub(super) fn was_turned(&self) -> bool {
        let turned = |seen: &Observation| {
            matches!(seen.observable, "range_turns" | "differential_turns")
                && seen.is_read()
                && seen.si().is_some_and(|turns| turns != 0.0)
        };
        self.state.observations.iter().any(turned)
    }

    /// Whether the tank that is gone to was not on the line when the work began.
    pub(super) fn is_new_tank(&self) -> bool {
        let tank = self.state.frames.tank();
        let mut own = self.state.observations.iter().rev().filter(|seen| seen.tank == tank);
        let place = own.find(|seen| seen.observable == "layout");
        tank.is_some() && place.and_then(|seen| seen.word()) == Some("new")
    }

    /// Whether a plain switch runs the pump, with no valve or drive beside.
    pub(super) fn is_plain_switch(&self) -> bool {
        let other = |word: Option<&str>| matches!(word, Some("valve" | "drive"));
        !self.state.observations.iter().any(|seen| seen.observable == "pump_kind" && other(seen.word()))
    }

    /// What the steps before a diagnosis try, as far as it goes for this installation.
    pub(super) fn set_out(&self, diagnosis: &Step, phase: Phase) -> Vec<Item> {
        let procedure = &self.setting.procedure;
        let facts = procedure.facts.iter().filter_map(|fact| {
            Some(Tried { observable: fact.observes?, kind: Some(fact.kind.clone()), step: None })
        });
        let before = procedure.all_steps().take_while(|step| step.id != diagnosis.id);
        let steps = before.filter_map(|step| {
            let asks = step.course().asks()?;
            Some(Tried { observable: step.observes?, kind: asks.gives().map(|it| it.kind), step: Some(step) })
        });
        let asked: Vec<Tried<'_>> = facts.chain(steps).collect();
        let rests = asked.iter().any(|tried| tried.observable.name == "rest_time");
        let mut items: Vec<Item> = Vec::new();
        for tried in &asked {
            items.extend(self.tried_by(tried, rests, phase));
        }
        let impossible: &[Item] = match (self.several_tanks(), self.is_plain_switch()) {
            (true, _) if self.is_whole_line() => OF_ONE_TANK,
            (true, _) => &[Item::Drawdown, Item::RunTime, Item::OtherTanks],
            (false, false) => &[Item::RunTime],
            (false, true) => &[],
        };
        items.retain(|item| !impossible.contains(item));
        items
    }

    /// What an answer about an observable tries.
    fn tried_by(&self, tried: &Tried<'_>, rests: bool, phase: Phase) -> Vec<Item> {
        let (name, step) = (tried.observable.name, tried.step);
        let tells = step.and_then(|step| step.tells);
        if name == "precharge" && tells == Some(Phase::Before) {
            return vec![Item::Earlier];
        }
        if name == "line_pressure" && rests {
            let needs =
                |state: &str| step.is_some_and(|it| it.needs.iter().any(|(need, _)| **need == *state));
            let shut = needs("house_shut") && self.newest_word("house_valve") != Some("no");
            let still = needs("pump_off") && needs("drain_shut");
            return if still { vec![if shut { Item::HoldShut } else { Item::HoldOpen }] } else { Vec::new() };
        }
        let numbers = NUMBERS.iter().filter(|_| step.is_some());
        let words = WORDS.iter().filter(|(_, item)| tried.may_answer(*item));
        let items = numbers.chain(words).filter(|(known, _)| *known == name).map(|(_, item)| *item);
        items.filter(|item| step.is_none() || is_of_stage(*item, tells, phase)).collect()
    }
}

/// What is asked of an observable, by a fact or a step.
struct Tried<'p> {
    observable: &'static Observable,
    kind: Option<Kind>,
    step: Option<&'p Step>,
}

impl Tried<'_> {
    /// Whether one of the words that can be answered says something about an item.
    fn may_answer(&self, item: Item) -> bool {
        match &self.kind {
            Some(Kind::OneOf(words)) => words.iter().any(|word| is_answer(item, word)),
            Some(Kind::YesNo) => ["yes", "no"].iter().any(|word| is_answer(item, word)),
            Some(Kind::Measure(_) | Kind::Text) | None => false,
        }
    }
}
