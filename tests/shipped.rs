//! Everything that comes with the program loads, and is made of parts that earn their place.
#![allow(clippy::unwrap_used)]

#[path = "support/golden.rs"]
mod golden;

use std::collections::BTreeSet;
use std::fmt::Write;

use tankhand::app::Library;
use tankhand::procedure::{SHIPPED, shipped};
use tankhand::report::faults_text;
use toml::{Table, Value};

#[test]
fn every_shipped_procedure_loads() {
    let library = Library::default();
    let names = library.procedures();
    assert!(names.len() >= 2);
    for name in names {
        match library.load(&name) {
            Ok(procedure) => {
                assert!(procedure.steps.len() > 5, "{name} has hardly any steps");
                assert_eq!(shipped(&name).unwrap().title(), procedure.title, "{name}");
            }
            Err(tankhand::app::Failure::Faults(faults)) => panic!("{}", faults_text(&faults, 100, false)),
            Err(failure) => panic!("{name}: {failure}"),
        }
    }
}

/// What is read or chosen is of something, and what is to be seen may not be so.
#[test]
fn every_step_has_the_keys_that_give_it_its_meaning() {
    let wanted = [("read", "observes"), ("choose", "observes"), ("see", "not_so")];
    for file in SHIPPED {
        let table: Table = file.text.parse().unwrap();
        for step in steps(&table) {
            for (with, needed) in wanted {
                let lacks = step.contains_key(with) && !step.contains_key(needed);
                let is_choice = with == "see" && step.contains_key("choose");
                assert!(!lacks || is_choice, "{}: `{with}` without `{needed}`:\n{step}", file.name);
            }
        }
    }
}

#[test]
fn a_tank_is_chosen_only_where_one_of_several_is_worked_on() {
    let library = Library::default();
    let for_one = |name: &str| library.load(name).is_ok_and(|procedure| procedure.is_for_one_tank());
    for name in ["flush", "new-tank", "commission"] {
        assert!(for_one(name), "{name}");
    }
    // These go through all tanks, or through none of the system file's.
    for name in ["yearly", "add-tank", "used-tank"] {
        assert!(!for_one(name), "{name}");
    }
}

/// Parts that stand in one place only, and why each is a part all the same.
const USED_ONCE: &[(&str, &str)] = &[
    ("bang", BRANCH),
    (
        "flush-rounds",
        "the heart of a flush, which reads from top to bottom without it; it asks for all that makes it safe",
    ),
    ("no-water", BRANCH),
    ("pump-runs-on", BRANCH),
    ("seen-in-water", BRANCH),
    ("starts-often", BRANCH),
    (
        "turn-switch",
        "turns of the nuts, measured and learned from: a loop of its own, with the power off and on in it",
    ),
    ("wet-valve", BRANCH),
];
const BRANCH: &str =
    "what is done about one kind of trouble: a person sees one of them, and they share nothing";

/// A shipped file, with the parts that it uses, and the file whose states it speaks of.
struct Uses {
    name: &'static str,
    parts: BTreeSet<String>,
    states: Option<String>,
}

impl Uses {
    fn of(name: &'static str, text: &str) -> Uses {
        let table: Table = text.parse().unwrap();
        let used = steps(&table).into_iter().filter_map(|step| step.get("use").and_then(Value::as_str));
        let parts = used.map(String::from).collect();
        let states = table.get("states").and_then(Value::as_str).map(String::from);
        Uses { name, parts, states }
    }

    fn relies_on(&self, part: &str) -> bool {
        self.parts.contains(part) || self.states.as_deref() == Some(part)
    }

    /// How deep parts stand in one another below it.
    fn depth(&self, all: &[Uses]) -> usize {
        let below = all.iter().filter(|file| self.parts.contains(file.name));
        below.map(|file| 1 + file.depth(all)).max().unwrap_or(0)
    }
}

/// Every step of a file, those in loops too.
fn steps(table: &Table) -> Vec<&Table> {
    let own = table.get("step").and_then(Value::as_array).into_iter().flatten();
    own.filter_map(Value::as_table).flat_map(|step| std::iter::once(step).chain(steps(step))).collect()
}

#[test]
fn parts_have_several_users_or_a_reason_to_be_one() {
    let all: Vec<Uses> = SHIPPED.iter().map(|file| Uses::of(file.name, file.text)).collect();
    let parts = all.iter().filter(|file| file.name.starts_with("parts/"));
    let (mut rows, mut once) = (String::new(), Vec::new());
    for part in parts.clone() {
        let users: Vec<&str> =
            all.iter().filter(|file| file.relies_on(part.name)).map(|file| file.name).collect();
        let name = part.name.trim_start_matches("parts/");
        assert!(!users.is_empty(), "nothing uses {name}");
        once.extend((users.len() == 1).then_some(name));
        writeln!(rows, "{name:<18} {:>2}  {}", users.len(), users.join(" ")).unwrap();
    }
    once.sort_unstable();
    let reasoned: Vec<&str> = USED_ONCE.iter().map(|(name, _)| *name).collect();
    assert_eq!(once, reasoned, "parts with one user, against those with a reason");
    let deepest = all.iter().map(|file| file.depth(&all)).max().unwrap_or(0);
    assert!(deepest <= 2, "parts stand {deepest} deep in parts");
    let head = format!("{} parts, at most {deepest} deep; each with the number of its users", parts.count());
    golden::holds("tests/shipped/parts.txt", &format!("{head}\n\n{rows}"));
}
