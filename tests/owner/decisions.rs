//! What owners with common gauges are told to do for now about the tank, in every procedure that decides
//! it: a textbook tank, 2 psi under cut-in, is accepted; one with 10 psi less is set again.

use std::fmt::Write as _;

use tankhand::app::Library;
use tankhand::owner::{Household, Mistakes, Owner};
use tankhand::physics::diagnosis::CauseId;
use tankhand::record::{Entry, ForNow, Grade};

use crate::confusion::GOOD_NAMES;
use crate::golden::in_project;
use crate::performance::{Performance, perform};
use crate::played::{begin, load_all, setting};

const PSI: f64 = 6_894.757_293_168_361;
/// Procedures that decide about a tank, by one diagnosis.
const DECIDES: &[&str] = &["flush", "yearly", "short-cycling", "re-open", "commission", "set-switch"];
/// Answers of the decision, in the order of the table.
const ANSWERS: [ForNow; 4] = [ForNow::Accept, ForNow::Leave, ForNow::Set, ForNow::SeeTo];
/// Findings that leave nothing open, with the place of the answer that each stands for.
const CERTAIN: [(CauseId, usize); 4] =
    [(CauseId::Low, 2), (CauseId::Waterlogged, 2), (CauseId::AirLeak, 2), (CauseId::High, 2)];

/// How often each answer was given: accept, look again, set again, see to the tank, none; and how often the
/// last word was good.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Answers {
    answers: [usize; 5],
    good: usize,
}

/// The answer of the first finding that has one.
fn answer(done: &Performance) -> usize {
    let of_name = |name: &str| {
        let certain = CERTAIN.iter().find(|(cause, _)| cause.cause().name == name).map(|(_, answer)| *answer);
        certain.or(GOOD_NAMES.contains(&name).then_some(0))
    };
    let of = |entry: &Entry| {
        let for_now = entry.for_now.and_then(|word| ANSWERS.iter().position(|it| *it == word));
        for_now.or_else(|| of_name(entry.given.as_deref()?))
    };
    done.entries.iter().filter(|entry| entry.is_of_diagnosis()).find_map(of).unwrap_or(4)
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
        let done = perform(&mut Owner::new(home, Mistakes::default(), seed), setting, begin()).unwrap();
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
