//! What loading proves, seen from outside: procedures written at random and found sound are
//! performed with random answers, skips and steps back.
//!
//! Whatever is answered, no question and no text shows a hole that was not answered, every state
//! that a question needs holds, no condition goes untold, and the run comes to an end.

mod step;
mod write;

use std::sync::Arc;
use std::time::Duration;

use proptest::prelude::*;
use step::{mend, text};
use tankhand::clock::Moment;
use tankhand::engine::{ACKNOWLEDGE, Ask, Event, Input, Run, Setting, Wanted};
use tankhand::procedure::{Path, Procedure, Step, Surroundings, Texts, load};
use tankhand::quantity::{Kind, Measure, Units};
use tankhand::record::EntryKind;
use tankhand::source::SourceText;
use tankhand::system::System;
use write::{Dice, Writer};

struct NoParts;

impl Texts for NoParts {
    fn text(&self, _: &str) -> Option<Result<SourceText, String>> {
        None
    }

    fn names(&self) -> Vec<String> {
        Vec::new()
    }
}

/// A random procedure, with everything taken out that loading objects to.
fn sound(numbers: &[u32]) -> (Procedure, String) {
    let mut steps = Writer::new(Dice(numbers.iter())).steps(0);
    for _ in 0..200 {
        let text = text(&steps);
        let source = SourceText::new("random.toml", text.as_str());
        let paths = [Path { name: "tank.volume", kind: Kind::Measure(Measure::Volume) }];
        match load(&source, &Surroundings { texts: &NoParts, paths: &paths }) {
            Ok(procedure) => return (procedure, text),
            Err(faults) => {
                let fault = &faults[0];
                let known = ["maybe-unknown", "needs-state", "unreachable"];
                assert!(known.contains(&fault.code), "{}\n{text}", fault.heading());
                mend(&mut steps, source.place(fault.span.start).line, fault.code);
            }
        }
    }
    panic!("this is never mended:\n{}", text(&steps));
}

fn system(tanks: usize) -> System {
    let tank = |n: usize| format!("[[tank]]\nid = \"t{n}\"\nvolume = \"{} gal\"\n", 40 * (n + 1));
    let text = format!("format = 1\n{}", (0..tanks).map(tank).collect::<String>());
    tankhand::system::load(&SourceText::new("system.toml", text)).unwrap()
}

/// A run, and the dice that answer it.
struct Walker<'a> {
    run: Run,
    dice: Dice<'a>,
    now: Moment,
    backs: usize,
}

impl Walker<'_> {
    /// Looks at what came about.
    fn told(&self, events: &[Event]) {
        for Event { entry, .. } in events {
            for words in [&entry.said, &entry.asked].into_iter().flatten() {
                assert!(!words.contains("(not known)"), "`{}` is told: {words}", entry.step);
            }
            let untold = entry.kind == EntryKind::Skipped && entry.asked.is_none();
            assert!(!untold, "`{}`: {:?}", entry.step, entry.reason);
        }
    }

    /// Looks at a question, answers it, and looks at what follows.
    fn answer(&mut self, procedure: &Procedure, ask: &Ask) {
        for words in [Some(&ask.text), ask.why.as_ref(), ask.how.as_ref(), ask.section.as_ref()] {
            let words = words.map_or("", String::as_str);
            assert!(!words.contains("(not known)"), "`{}` is asked: {words}", ask.place.step);
        }
        if let Some(step) = find(&procedure.steps, &ask.place.step) {
            let holding = self.run.states();
            for (state, _) in &step.needs {
                assert!(holding.contains(&state.as_ref()), "`{}` needs `{state}`: {holding:?}", step.id);
            }
        }
        let events = self.act(ask);
        self.told(&events);
    }

    fn act(&mut self, ask: &Ask) -> Vec<Event> {
        self.now = self.now.plus(Duration::from_secs(60));
        if ask.can_back && self.backs < 6 && self.dice.one_in(12) {
            self.backs += 1;
            return self.run.take(Input::Back, self.now).unwrap();
        }
        if ask.can_skip && self.dice.one_in(2) {
            return self.run.take(Input::Skip("no time"), self.now).unwrap();
        }
        let answer = match &ask.wanted {
            Wanted::Done(word) => word.unwrap_or("").to_string(),
            Wanted::Number(Measure::Volume, _) => format!("{} gal", 30 + 40 * self.dice.below(2)),
            Wanted::Number(..) => self.dice.below(4).to_string(),
            Wanted::YesNo => ["no", "yes"][self.dice.below(2)].to_string(),
            Wanted::OneOf(words) => words[self.dice.below(words.len())].value.clone(),
            Wanted::Text(_) => "x".to_string(),
            Wanted::WaitBegins(_) | Wanted::WaitOver(..) => ACKNOWLEDGE.to_string(),
        };
        self.run.take(Input::Answer(&answer, true), self.now).unwrap()
    }
}

fn find<'p>(steps: &'p [Step], id: &str) -> Option<&'p Step> {
    steps.iter().find_map(|step| if *step.id == *id { Some(step) } else { find(step.body(), id) })
}

/// Performs a procedure to its end.
fn perform(procedure: &Procedure, tanks: usize, answers: &[u32]) {
    let setting = Setting {
        procedure: Arc::new(procedure.clone()),
        name: "random".to_string(),
        system: Arc::new(system(tanks)),
        tank: 0,
        units: Units::Us,
    };
    let now = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
    let (run, events) = Run::begin(setting, now);
    let mut walker = Walker { run, dice: Dice(answers.iter()), now, backs: 0 };
    walker.told(&events);
    for _ in 0..20_000 {
        let Some(ask) = walker.run.ask() else { break };
        walker.answer(procedure, &ask);
    }
    assert!(walker.run.ended().is_some(), "the run does not come to an end");
}

/// How much of what is proven stands in a text: needs, conditions and holes.
fn weight(text: &str) -> usize {
    text.matches("needs").count() + text.matches("when").count() + text.matches("{n").count()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, max_shrink_iters: 20_000, ..ProptestConfig::default() })]

    #[test]
    fn what_is_found_sound_is_sound(
        numbers in proptest::collection::vec(any::<u32>(), 0..500),
        answers in proptest::collection::vec(proptest::collection::vec(any::<u32>(), 0..200), 6),
        tanks in 0usize..4,
    ) {
        let (procedure, text) = sound(&numbers);
        for answers in &answers {
            let performed = std::panic::catch_unwind(|| perform(&procedure, tanks, answers));
            prop_assert!(performed.is_ok(), "{text}");
        }
    }
}

#[test]
fn what_is_written_at_random_holds_enough_to_prove() {
    use proptest::strategy::{Strategy, ValueTree};
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let strategy = proptest::collection::vec(any::<u32>(), 500);
    let weights: Vec<usize> =
        (0..100).map(|_| weight(&sound(&strategy.new_tree(&mut runner).unwrap().current()).1)).collect();
    let rich = weights.iter().filter(|weight| **weight >= 6).count();
    assert!(rich >= 50, "only {rich} of 100 have six needs, conditions or holes: {weights:?}");
}
