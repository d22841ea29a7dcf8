//! Simulated owners perform every shipped procedure at simulated installations.

#[path = "../support/golden.rs"]
mod golden;

mod confusion;
mod plants;
mod played;
mod practice;
mod washing;

use std::sync::LazyLock;

use confusion::{Word, words};
use played::{Case, load_all};
use tankhand::app::Library;
use tankhand::engine::Run;
use tankhand::owner::Mistakes;

/// One owner of every fault in every procedure.
static SAMPLE: LazyLock<Vec<Word>> = LazyLock::new(|| words(1..2, |_| Mistakes::default()));

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

#[test]
fn the_wrong_breaker_is_found_out_before_hands_are_at_the_switch() {
    for (name, procedure) in load_all(&Library::default()) {
        let mistakes = Mistakes { wrong_breaker: true, ..Mistakes::default() };
        let case = Case { name: &name, procedure: &procedure, fault: None, seed: 2, mistakes };
        let (done, owner) = case.perform();
        assert!(done.is_ok(), "{name}");
        assert_eq!(owner.dangers(), [], "{name}");
    }
}

#[test]
fn a_performance_is_replayed_from_its_entries() {
    for (name, procedure) in load_all(&Library::default()) {
        let case =
            Case { name: &name, procedure: &procedure, fault: None, seed: 3, mistakes: Mistakes::default() };
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
    let fault = tankhand::owner::defect("nipple-plugged");
    let perform = || {
        Case { name, procedure, fault, seed: 7, mistakes: Mistakes::everyday(7) }.perform().0.unwrap().entries
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
    let fault = tankhand::owner::defect(fault);
    let case = Case { name, procedure, fault, seed: seed.parse().unwrap(), mistakes: Mistakes::default() };
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
