//! One procedure, one household, one owner.

use std::sync::Arc;

use tankhand::app::Library;
use tankhand::clock::Moment;
use tankhand::engine::{EarlierAnswers, Setting};
use tankhand::owner::{Defect, Household, Mistakes, Owner, Performance, Standstill};
use tankhand::procedure::Procedure;
use tankhand::quantity::Units;

/// Every shipped procedure, with its name.
pub fn load_all(library: &Library) -> Vec<(String, Arc<Procedure>)> {
    let load = |name: String| match library.load(&name) {
        Ok(procedure) => (name, Arc::new(procedure)),
        Err(failure) => panic!("{name}: {failure}"),
    };
    library.procedures().into_iter().map(load).collect()
}

/// What is performed.
pub struct Case<'a> {
    pub name: &'a str,
    pub procedure: &'a Arc<Procedure>,
    pub fault: Option<&'static Defect>,
    pub seed: u64,
    pub mistakes: Mistakes,
}

impl Case<'_> {
    pub fn perform(&self) -> (Result<Performance, Standstill>, Owner) {
        let mut home = Household::at_random(self.seed);
        home.suit(self.procedure);
        if let Some(fault) = self.fault {
            fault.apply(&mut home);
        }
        let setting = setting(self.name, self.procedure, &home);
        let begin = Moment::parse("2031-04-05T09:00:00-05:00").unwrap();
        let mut owner = Owner::new(home, self.mistakes, self.seed);
        (owner.perform(setting, begin), owner)
    }
}

/// A run of a procedure at a household.
pub fn setting(name: &str, procedure: &Arc<Procedure>, home: &Household) -> Setting {
    Setting {
        procedure: procedure.clone(),
        name: name.to_string(),
        system: Arc::new(home.system().unwrap()),
        tank: 0,
        units: Units::Us,
        past: EarlierAnswers::default(),
    }
}
