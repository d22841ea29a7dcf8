//! One procedure, one household, one owner.

use std::sync::Arc;

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;

use tankhand::app::Library;
use tankhand::clock::Moment;
use tankhand::engine::{EarlierAnswers, Setting};
use tankhand::owner::{Defect, Household, Mistakes, Owner};
use tankhand::procedure::Procedure;
use tankhand::quantity::Units;

use crate::performance::{Performance, Standstill, perform};

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
        (perform(&mut owner, setting, begin()), owner)
    }
}

/// Everyday mistakes, as often as they are made: judgement.
pub fn everyday(seed: u64) -> Mistakes {
    let seed = (seed ^ 0x6d69_7374).wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x6f77_6e65;
    let mut random = Pcg64Mcg::seed_from_u64(seed);
    // Neighboring seeds begin alike: let them part.
    random.next_u64();
    let mut happens = |percent: f64| {
        let even = (random.next_u64() >> 11) as f64 / (1u64 << 53) as f64;
        even < percent / 100.0
    };
    Mistakes {
        misread_air: happens(2.5),
        misread_line: happens(1.0),
        miscounted_bucket: happens(3.0),
        label_for_cut_in: happens(1.5),
        no_stop_unreported: happens(5.0),
        read_over_water: happens(2.0),
        wrong_breaker: happens(3.0),
        house_believed_shut: happens(2.0),
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
