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
    pub faults: &'a [&'static Defect],
    pub seed: u64,
    pub mistakes: Mistakes,
    /// What is otherwise at the installation than a diagnosis takes it to be.
    pub otherwise: fn(&mut Household),
}

/// Faults by their names.
pub fn names(faults: &[&'static Defect]) -> String {
    let names: Vec<&str> = faults.iter().map(|fault| fault.name).collect();
    if names.is_empty() { "none".to_string() } else { names.join(" + ") }
}

impl Case<'_> {
    pub fn perform(&self) -> (Result<Performance, Standstill>, Owner) {
        let mut home = Household::at_random(self.seed);
        (self.otherwise)(&mut home);
        home.suit(self.procedure);
        self.faults.iter().for_each(|fault| fault.apply(&mut home));
        let setting = setting(self.name, self.procedure, &home);
        let mut owner = Owner::new(home, self.mistakes, self.seed);
        (owner.perform(setting, begin()), owner)
    }
}

/// When performances begin.
pub fn begin() -> Moment {
    Moment::parse("2031-04-05T09:00:00-05:00").unwrap()
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
