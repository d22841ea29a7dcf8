//! Simulated owners perform every shipped procedure at simulated installations.

#[path = "../support/golden.rs"]
mod golden;
#[path = "../support/performance.rs"]
mod performance;

mod confusion;
mod contradiction;
mod decisions;
mod demos;
mod named;
mod plants;
mod played;
mod practice;
mod table;
mod washing;

use std::sync::LazyLock;

use confusion::{PLAIN, Word, played, words};
use played::{Case, everyday, load_all};
use tankhand::app::Library;
use tankhand::engine::Run;
use tankhand::owner::{Defect, KINDS, Mistakes};

/// One owner of every fault in every procedure.
static SAMPLE: LazyLock<Vec<Word>> = LazyLock::new(|| words(1..2));

#[test]
fn every_shipped_procedure_comes_to_an_end_whatever_is_wrong() {
    let stood: Vec<&Word> = SAMPLE.iter().filter(|word| word.grade.is_err()).collect();
    assert!(stood.is_empty(), "{stood:#?}");
    assert!(SAMPLE.len() > 250);
}

/// What the file lists is known and waits for its cure; nothing may be added.
#[test]
fn no_good_word_is_said_on_a_fault_that_was_claimed_but_where_that_is_known() {
    let dangerous: String =
        SAMPLE.iter().filter(|word| word.is_dangerous()).map(|word| format!("{:?}\n", word.case)).collect();
    golden::holds("tests/owner/dangerous.txt", &dangerous);
}

#[test]
fn nobody_is_hurt_by_following_the_steps() {
    let hurt: Vec<&Word> = SAMPLE.iter().filter(|word| !word.dangers.is_empty()).collect();
    assert!(hurt.is_empty(), "{hurt:#?}");
}

/// At installations of other kinds, sound ones.
#[test]
fn every_kind_of_installation_is_led_to_an_end_without_harm() {
    let kinds: Vec<Vec<&Defect>> = KINDS.iter().map(|kind| vec![kind]).collect();
    let words = played(&kinds, 1..2, PLAIN, |_, _| true);
    let wrong =
        |word: &&Word| word.grade.is_err() || !word.dangers.is_empty() || !word.contradictions.is_empty();
    let wrong: Vec<&Word> = words.iter().filter(wrong).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn what_is_said_last_is_so() {
    let wrong = SAMPLE.iter().filter(|word| !word.contradictions.is_empty());
    let wrong: String =
        wrong.map(|word| format!("{:?}: {}\n", word.case, word.contradictions.join("; "))).collect();
    assert_eq!(wrong, "");
}

#[test]
fn the_wrong_breaker_is_found_out_before_hands_are_at_the_switch() {
    for (name, procedure) in load_all(&Library::default()) {
        let mistakes = Mistakes { wrong_breaker: true, ..Mistakes::default() };
        let case =
            Case { name: &name, procedure: &procedure, faults: &[], seed: 2, mistakes, otherwise: |_| {} };
        let (done, owner) = case.perform();
        assert!(done.is_ok(), "{name}");
        assert_eq!(owner.dangers(), [], "{name}");
    }
}

#[test]
fn a_performance_is_replayed_from_its_entries() {
    for (name, procedure) in load_all(&Library::default()) {
        let case = Case {
            name: &name,
            procedure: &procedure,
            faults: &[],
            seed: 3,
            mistakes: Mistakes::default(),
            otherwise: |_| {},
        };
        let done = case.perform().0.unwrap();
        let last = done.entries.last().unwrap().at;
        let (again, missing) = Run::replay(done.run.setting().clone(), &done.entries, last).unwrap();
        assert_eq!((missing, again.ended()), (Vec::new(), done.run.ended()), "{name}");
    }
}

#[test]
fn one_seed_gives_one_performance() {
    let all = load_all(&Library::default());
    let (name, procedure) = all.iter().find(|(name, _)| name == "flush").unwrap();
    let faults = [tankhand::owner::defect("nipple-plugged").unwrap()];
    let perform = || {
        Case { name, procedure, faults: &faults, seed: 7, mistakes: everyday(7), otherwise: |_| {} }
            .perform()
            .0
            .unwrap()
            .entries
    };
    assert_eq!(perform(), perform());
}

#[test]
#[ignore = "prints one run: NAME FAULT SEED in TANKHAND_PLAY"]
fn one_run() {
    let order = std::env::var("TANKHAND_PLAY").unwrap();
    let [name, fault, seed] = order.split(' ').collect::<Vec<_>>().try_into().unwrap();
    let all = load_all(&Library::default());
    let (_, procedure) = all.iter().find(|(known, _)| known == name).unwrap();
    let faults: Vec<&'static Defect> = fault.split('+').filter_map(tankhand::owner::defect).collect();
    let case = Case {
        name,
        procedure,
        faults: &faults,
        seed: seed.parse().unwrap(),
        mistakes: Mistakes::default(),
        otherwise: |_| {},
    };
    match case.perform().0 {
        Ok(done) => {
            for entry in &done.entries {
                let of = entry.observes.as_deref().unwrap_or("-");
                let given = entry.given.as_deref().unwrap_or("-");
                let said = entry.message().unwrap_or_default();
                println!("{} {:?} {} [{of}] = {given} | {said}", entry.at, entry.kind, entry.step);
            }
            println!("{:?} {:?}", done.run.grade(), done.ended);
        }
        Err(standstill) => println!("{standstill}"),
    }
}
