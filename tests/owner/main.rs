//! Simulated owners perform every shipped procedure at simulated installations.

mod confusion;
mod played;

use played::{Case, load_all};
use tankhand::app::Library;
use tankhand::engine::{Ask, Run};
use tankhand::owner::{FAULTS, Mistakes};

#[test]
fn every_shipped_procedure_comes_to_an_end_whatever_is_wrong() {
    let mut stood = Vec::new();
    for (name, procedure) in load_all(&Library::default()) {
        for fault in std::iter::once(None).chain(FAULTS.iter().map(Some)) {
            let case =
                Case { name: &name, procedure: &procedure, fault, seed: 1, mistakes: Mistakes::default() };
            match case.perform().0 {
                Ok(done) => assert_eq!(done.run.ask().map(|ask: Ask| ask.text), None),
                Err(standstill) => stood.push(format!("{}: {standstill}", case.named())),
            }
        }
    }
    assert_eq!(stood, Vec::<String>::new());
}

#[test]
fn a_performance_is_replayed_from_its_entries() {
    let library = Library::default();
    for (name, procedure) in load_all(&library) {
        let case =
            Case { name: &name, procedure: &procedure, fault: None, seed: 3, mistakes: Mistakes::default() };
        let done = case.perform().0.unwrap();
        let last = done.entries.last().unwrap().at;
        let (again, missing) = Run::replay(done.run.setting().clone(), &done.entries, last).unwrap();
        assert_eq!((missing, again.ended()), (Vec::new(), done.run.ended()), "{name}");
    }
}

#[test]
fn nobody_is_hurt_by_following_the_steps() {
    let mut hurt = Vec::new();
    for (name, procedure) in load_all(&Library::default()) {
        for seed in 0..3 {
            let mistakes = Mistakes { wrong_breaker: true, ..Mistakes::default() };
            let case = Case { name: &name, procedure: &procedure, fault: None, seed, mistakes };
            let (_, owner) = case.perform();
            hurt.extend(owner.dangers().iter().map(|danger| format!("{}: {danger:?}", case.named())));
        }
    }
    assert_eq!(hurt, Vec::<String>::new());
}

#[test]
#[ignore = "prints one run: NAME FAULT SEED in TANKHAND_PLAY"]
fn one_run() {
    let order = std::env::var("TANKHAND_PLAY").unwrap();
    let [name, fault, seed] = order.split(' ').collect::<Vec<_>>().try_into().unwrap();
    let all = load_all(&Library::default());
    let (_, procedure) = all.iter().find(|(known, _)| known == name).unwrap();
    let fault = tankhand::owner::fault(fault);
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
