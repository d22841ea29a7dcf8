//! What loading proves, seen from outside: procedures written at random and found sound are
//! performed with random answers, skips and steps back.
//!
//! Whatever is answered, no question and no text shows a hole that was not answered, every state
//! that a question needs holds, no condition goes untold, and the run comes to an end.

mod step;
#[path = "../support/mod.rs"]
mod support;
mod write;

use std::sync::Arc;
use std::time::Duration;

use proptest::prelude::*;
use step::{mend, text};
use support::{setting_of, start};
use tankhand::clock::Moment;
use tankhand::engine::{ACKNOWLEDGE, AnswerKind, Ask, Event, Run, RunInput};
use tankhand::procedure::{LoadContext, NoParts, Path, Procedure, Step, load};
use tankhand::quantity::{Kind, Measure};
use tankhand::record::{Entry, EntryKind};
use tankhand::source::SourceText;
use tankhand::system::System;
use write::{Dice, Writer};

/// A random procedure, with everything taken out that loading objects to.
fn sound(numbers: &[u32]) -> (Procedure, String) {
    let mut steps = Writer::new(Dice(numbers.iter())).steps(0);
    for _ in 0..200 {
        let text = text(&steps);
        let source = SourceText::new("random.toml", text.as_str());
        let paths = [Path { name: "tank.volume", kind: Kind::Measure(Measure::Volume) }];
        match load(&source, &LoadContext { texts: &NoParts, paths: &paths }) {
            Ok(procedure) => return (procedure, text),
            Err(faults) => {
                let fault = &faults[0];
                let known = ["maybe-unknown", "never-known", "needs-state", "unreachable"];
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
    /// The record so far.
    entries: Vec<Entry>,
}

impl Walker<'_> {
    /// Leaves the run and goes on with it from its record: it stands where it stood.
    fn leave_and_resume(&mut self) {
        for input in [RunInput::Pause, RunInput::Resume] {
            let events = self.run.take(input, self.now).unwrap();
            self.look_at(&events);
        }
        let setting = self.run.setting().clone();
        let (again, missing) = Run::replay(setting, &self.entries, self.now).unwrap();
        assert_eq!(missing, Vec::new());
        assert_eq!(again.ask(), self.run.ask());
        assert_eq!(again.states(), self.run.states());
        self.run = again;
    }

    /// Looks at what came about.
    fn look_at(&mut self, events: &[Event]) {
        self.entries.extend(events.iter().map(|event| event.entry.clone()));
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
        self.look_at(&events);
    }

    fn act(&mut self, ask: &Ask) -> Vec<Event> {
        self.now = self.now.plus(Duration::from_secs(60));
        if ask.can_back && self.backs < 6 && self.dice.one_in(12) {
            self.backs += 1;
            return self.run.take(RunInput::Back, self.now).unwrap();
        }
        if ask.can_back && self.backs < 6 && self.dice.one_in(12) {
            self.backs += 1;
            let number = 1 + self.dice.below(ask.number - 1);
            return self.run.take(RunInput::Amend(number), self.now).unwrap();
        }
        if self.backs < 6 && self.dice.one_in(12) {
            let told = self.run.facts_from_file();
            if let Some((label, _)) = told.get(self.dice.below(told.len().max(1))) {
                self.backs += 1;
                return self.run.take(RunInput::AmendNamed(label), self.now).unwrap();
            }
        }
        if ask.can_skip && self.dice.one_in(2) {
            return self.run.take(RunInput::Skip("no time"), self.now).unwrap();
        }
        if let Some((word, _)) = ask.otherwise.as_ref().filter(|_| self.dice.one_in(8)) {
            return self.run.take(RunInput::Answer(word), self.now).unwrap();
        }
        let answer = match &ask.expects {
            AnswerKind::Done(word) => word.clone().unwrap_or_default(),
            AnswerKind::Understood => ACKNOWLEDGE.to_string(),
            AnswerKind::Number(Measure::Volume, _) if ask.place.step.as_ref() == "size" => {
                format!("{} gal", 30 + 40 * self.dice.below(2))
            }
            AnswerKind::Number(..) => return self.number(),
            AnswerKind::YesNo => ["no", "yes"][self.dice.below(2)].to_string(),
            AnswerKind::OneOf(words) => words[self.dice.below(words.len())].value.clone(),
            // A date is a text too.
            AnswerKind::Text(_) => "2031-04-05".to_string(),
            AnswerKind::WaitBegins(_) => return self.run.take(RunInput::WaitBegins, self.now).unwrap(),
            AnswerKind::WaitOver { whole, .. } => {
                return self.run.take(RunInput::WaitOver(*whole), self.now).unwrap();
            }
        };
        self.run.take(RunInput::Confirmed(&answer), self.now).unwrap()
    }
}

impl Walker<'_> {
    /// The first number, from a random place on, that may be answered here.
    fn number(&mut self) -> Vec<Event> {
        const NUMBERS: [&str; 14] =
            ["0", "1", "2", "3", "0.5", "5", "20", "36", "38", "40", "58", "60", "75", "100"];
        let small = self.run.setting().procedure.title == "t";
        let first = self.dice.below(if small { 4 } else { NUMBERS.len() });
        for at in first..first + NUMBERS.len() {
            let number = NUMBERS[at % NUMBERS.len()];
            if let Ok(events) = self.run.take(RunInput::Confirmed(number), self.now) {
                return events;
            }
        }
        panic!("no number fits {:?}", self.run.ask());
    }
}

impl Walker<'_> {
    /// What a person told, and how the run ended by it.
    fn seen_of(&self) -> String {
        let answers = self.run.answered_so_far().map(|answer| {
            let Entry { kind, step, round, take, given, at, value, .. } = answer.entry.clone();
            (kind, step, round, take, given, at, value)
        });
        format!("{:#?}", (answers.collect::<Vec<_>>(), self.run.ended(), self.run.states()))
    }

    /// An answer that is changed to itself changes nothing.
    fn amend_to_the_same(&mut self) {
        let count = self.run.answered_so_far().count();
        if count == 0 {
            return;
        }
        let number = 1 + self.dice.below(count);
        let entry = self.run.answered_so_far().nth(number - 1).unwrap().entry.clone();
        let before = self.seen_of();
        let events = self.run.take(RunInput::Amend(number), self.now).unwrap();
        self.look_at(&events);
        let given = entry.given.clone().unwrap_or_default();
        let input = match entry.kind {
            EntryKind::Skipped => RunInput::Skip(entry.reason.as_deref().unwrap()),
            _ => RunInput::Confirmed(&given),
        };
        let events = self.run.take(input, entry.at).unwrap();
        self.look_at(&events);
        assert_eq!(self.run.left_to_carry(), 0, "{:#?}\n{entry:#?}", self.run.ask());
        assert_eq!(self.seen_of(), before, "answer {number} amended to what it was");
        self.leave_and_resume();
    }
}

fn find<'p>(steps: &'p [Step], id: &str) -> Option<&'p Step> {
    steps.iter().find_map(|step| if *step.id == *id { Some(step) } else { find(step.body(), id) })
}

/// Performs a procedure to its end.
fn perform(procedure: &Procedure, tanks: usize, answers: &[u32]) {
    let setting = setting_of(Arc::new(procedure.clone()), system(tanks));
    let now = start();
    let (run, events) = Run::begin(setting, now);
    let mut walker = Walker { run, dice: Dice(answers.iter()), now, backs: 0, entries: Vec::new() };
    walker.look_at(&events);
    for _ in 0..20_000 {
        let Some(ask) = walker.run.ask() else { break };
        walker.answer(procedure, &ask);
        if walker.dice.one_in(30) {
            walker.leave_and_resume();
        }
    }
    assert!(walker.run.ended().is_some(), "the run does not come to an end");
    for _ in 0..2 {
        walker.amend_to_the_same();
    }
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

/// The shipped procedures, with a system of random size, are driven as the random ones are: they
/// come to an end or a stop, and no text of theirs shows a hole.
#[test]
fn shipped_procedures_driven_at_random_come_to_an_end() {
    use proptest::strategy::{Strategy, ValueTree};
    let library = tankhand::app::Library::default();
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let strategy = proptest::collection::vec(any::<u32>(), 400);
    for name in library.procedures() {
        let procedure = library.load(&name).unwrap();
        for round in 0..60 {
            let answers = strategy.new_tree(&mut runner).unwrap().current();
            let performed = std::panic::catch_unwind(|| perform(&procedure, round % 3, &answers));
            assert!(performed.is_ok(), "{name}, round {round}");
        }
    }
}

/// The faults of a text: code and message, without their places.
fn faults_of(text: &str) -> Vec<(&'static str, String)> {
    let source = SourceText::new("random.toml", text);
    let paths = [Path { name: "tank.volume", kind: Kind::Measure(Measure::Volume) }];
    let faults = load(&source, &LoadContext { texts: &NoParts, paths: &paths }).err().unwrap_or_default();
    let mut told: Vec<_> = faults.into_iter().map(|fault| (fault.code, fault.message)).collect();
    told.sort();
    told
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Checking says the same twice, and in whichever order two unrelated steps stand.
    #[test]
    fn checking_is_settled_and_minds_no_order_of_unrelated_steps(
        numbers in proptest::collection::vec(any::<u32>(), 0..300), at in 0.0f64..1.0
    ) {
        let text = text(&Writer::new(Dice(numbers.iter())).steps(0));
        prop_assert_eq!(faults_of(&text), faults_of(&text));
        let places: Vec<usize> = text.match_indices("\n{ id").map(|(at, _)| at + 1).collect();
        prop_assume!(!places.is_empty());
        let place = places[(places.len() as f64 * at) as usize];
        let (a, b) = ("{ do = \"Sweep the floor.\" },\n", "{ id = \"sky\", choose = [\"blue\", \"grey\"], ask = \"Sky\" },\n");
        let with = |first: &str, second: &str| format!("{}{first}{second}{}", &text[..place], &text[place..]);
        prop_assert_eq!(faults_of(&with(a, b)), faults_of(&with(b, a)));
    }
}

/// Whatever steps are lost from a shipped file: what still loads can be performed.
#[test]
fn shipped_procedures_with_a_step_lost_load_and_come_to_an_end_or_do_not_load() {
    use proptest::strategy::{Strategy, ValueTree};
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let strategy = proptest::collection::vec(any::<u32>(), 400);
    let library = tankhand::app::Library::default();
    let mut performed = 0;
    for file in tankhand::procedure::SHIPPED.iter().filter(|file| file.name.starts_with("parts/")) {
        let starts: Vec<usize> = file.text.match_indices("\n[[step]]").map(|(at, _)| at + 1).collect();
        for (n, start) in starts.iter().enumerate() {
            let end = starts.get(n + 1).copied().unwrap_or(file.text.len());
            let text = format!("{}{}", &file.text[..*start], &file.text[end..]);
            let changed = library.with_part(file.name, &SourceText::new(file.file, text)).unwrap();
            if let Ok(procedure) = changed.load("flush") {
                let answers = strategy.new_tree(&mut runner).unwrap().current();
                let ended = std::panic::catch_unwind(|| perform(&procedure, n % 3, &answers));
                assert!(ended.is_ok(), "{} without its step {n}", file.name);
                performed += 1;
            }
        }
    }
    assert!(performed > 20, "only {performed} of the changed files loaded");
}
