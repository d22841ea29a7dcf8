//! What owners with common gauges are told to do for now about the tank, in every procedure that decides
//! it: a textbook tank, 2 psi under cut-in, is accepted; one with 10 psi less is set again.

use std::fmt::Write as _;

use tankhand::app::Library;
use tankhand::owner::{Household, Mistakes, Owner, Performance};
use tankhand::record::Grade;

use crate::golden::in_project;
use crate::played::{begin, load_all, setting};

const PSI: f64 = 6_894.757_293_168_361;
/// Procedures that decide about a tank, by one diagnosis.
const DECIDES: &[&str] = &["flush", "yearly", "short-cycling", "re-open", "commission", "set-switch"];
/// Words of a first finding, with the answer that each stands for.
const ANSWERS: [(&str, usize); 8] = [
    ("et air out until", 2),
    ("o fault found", 0),
    ("other fault found", 0),
    ("For now accept", 0),
    ("For now leave", 1),
    ("For now set", 2),
    ("et the precharge", 2),
    ("For now see to", 3),
];

/// How often each answer was given: accept, look again, set again, see to the tank, none; and how often the
/// last word was good.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Answers {
    answers: [usize; 5],
    good: usize,
}

/// The answer of the first diagnosis.
fn answer(done: &Performance) -> usize {
    let told = done.entries.iter().filter_map(|entry| {
        let words = format!("{} {}", entry.said.as_deref()?, entry.next.as_deref()?);
        ANSWERS.iter().find(|(known, _)| words.contains(known)).map(|(_, answer)| *answer)
    });
    told.into_iter().next().unwrap_or(4)
}

/// What owners are told whose tank has so much less than the cut-in.
fn answered(name: &str, gap: f64, owners: std::ops::Range<u64>) -> Answers {
    let all = load_all(&Library::default());
    let (_, procedure) = all.iter().find(|(known, _)| known == name).unwrap();
    let mut told = Answers::default();
    for seed in owners {
        let mut home = Household::at_random(seed);
        home.suit(procedure);
        for tank in &mut home.site.tanks {
            tank.precharge = home.site.switch.cut_in - gap * PSI;
        }
        let setting = setting(name, procedure, &home);
        let done = Owner::new(home, Mistakes::default(), seed).perform(setting, begin()).unwrap();
        told.answers[answer(&done)] += 1;
        told.good += usize::from(done.run.grade() == Some(Grade::Good));
    }
    told
}

#[test]
fn a_textbook_tank_is_accepted_and_a_low_one_set_again() {
    for name in DECIDES {
        let [textbook, low] = [2.0, 12.0].map(|gap| answered(name, gap, 300..303).answers);
        assert!(textbook[0] == 3 && low[2] == 3, "{name}: {textbook:?} {low:?}");
    }
}

#[test]
#[ignore = "writes tests/owner/decisions.txt: TANKHAND_OWNERS (40) owners of each procedure and precharge"]
fn decision_table() {
    let owners = std::env::var("TANKHAND_OWNERS").map_or(40, |owners| owners.parse().unwrap());
    let mut text = format!(
        "What {owners} simulated owners with common gauges were told to do for now, by how far the precharge lies below\n\
         cut-in: accept, look again, set again, see to the tank, nothing of it; and how often the last word was good.\n\
         Made by `cargo test --locked --test owner decision_table -- --ignored`.\n"
    );
    for name in DECIDES {
        for gap in [2.0, 5.0, 8.0, 10.0, 12.0, 15.0, -3.0] {
            let Answers { answers, good } = answered(name, gap, 300..300 + owners);
            writeln!(text, "{name:14} {gap:3} psi: {answers:?}  good {good}").unwrap();
        }
    }
    std::fs::write(in_project("tests/owner/decisions.txt"), text).unwrap();
}
