//! Simulated owners perform every shipped procedure at simulated installations.

use std::sync::Arc;

use tankhand::app::Library;
use tankhand::clock::Moment;
use tankhand::engine::{EarlierAnswers, Setting};
use tankhand::owner::{FAULTS, Household, HouseholdFault, Mistakes, Owner, Performance, Standstill};
use tankhand::procedure::Procedure;
use tankhand::quantity::Units;

fn perform(
    procedure: &Arc<Procedure>,
    fault: Option<&HouseholdFault>,
    seed: u64,
) -> Result<Performance, Standstill> {
    let mut home = Household::at_random(seed);
    home.suit(procedure);
    if let Some(fault) = fault {
        fault.apply(&mut home);
    }
    let system = Arc::new(home.system().unwrap());
    let setting = Setting {
        procedure: procedure.clone(),
        name: "test".to_string(),
        system,
        tank: 0,
        units: Units::Us,
        past: EarlierAnswers::default(),
    };
    let begin = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
    Owner::new(home, Mistakes::default(), seed).perform(setting, begin)
}

#[test]
fn every_shipped_procedure_comes_to_an_end() {
    let library = Library::default();
    for name in library.procedures() {
        let procedure = Arc::new(library.load(&name).unwrap_or_else(|_| panic!("{name}")));
        for fault in std::iter::once(None).chain(FAULTS.iter().map(Some)) {
            let begin = std::time::Instant::now();
            let word = match perform(&procedure, fault, 1) {
                Ok(done) => format!("{:?} {:?} n={} {}", done.ended.0, done.run.grade(), done.entries.len(), done.ended.1),
                Err(stood) => format!("STANDSTILL {stood}"),
            };
            println!("{name} {} [{:?}]: {word}", fault.map_or("healthy", |fault| fault.name), begin.elapsed());
        }
    }
}

#[test]
#[ignore = "prints one run: NAME FAULT SEED in TANKHAND_PLAY"]
fn one_run() {
    let order = std::env::var("TANKHAND_PLAY").unwrap();
    let mut words = order.split(' ');
    let (name, fault, seed) = (words.next().unwrap(), words.next().unwrap(), words.next().unwrap());
    let procedure = Arc::new(Library::default().load(name).unwrap_or_else(|_| panic!("{name}")));
    let begin = std::time::Instant::now();
    let done = perform(&procedure, tankhand::owner::fault(fault), seed.parse().unwrap());
    println!("{:?}", begin.elapsed());
    match done {
        Ok(done) => {
            for entry in &done.entries {
                println!(
                    "{} {:?} {} [{}] = {} | {}",
                    entry.at,
                    entry.kind,
                    entry.step,
                    entry.observes.as_deref().unwrap_or("-"),
                    entry.given.as_deref().unwrap_or("-"),
                    entry.message().unwrap_or_default(),
                );
            }
            println!("{:?}", done.ended);
        }
        Err(stood) => println!("STANDSTILL {stood}"),
    }
}
