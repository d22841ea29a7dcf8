//! What is wrong with a well system, by all that was read and seen of it.
//!
//! Diagnosis from models: each cause predicts what would be observed, by the same physics; all evidence
//! with its uncertainties gives each cause a probability (J. de Kleer and B. C. Williams, "Diagnosing
//! Multiple Faults", Artificial Intelligence 32, 1987, is the idea; the models are this project's).
//! What is a judgement, priors and tables of words, stands in one place each: [`causes`], [`words`],
//! [`next_test`], [`decision`].

mod causes;
mod claims;
mod decision;
mod density;
mod diagnosis;
mod evidence;
mod explain;
mod history;
mod items;
mod leaks;
mod misread;
mod next_test;
mod posterior;
mod run_time;
mod switch;
mod tank;
mod tank_laws;
mod words;

pub use causes::{CAUSES, Cause, CauseId, Group, Weight, Who};
pub use claims::{Claims, SURE};
pub use decision::{COSTS, Working};
pub use diagnosis::{Diagnosis, Found, Odd, diagnose};
pub use evidence::{EarlierCharge, Evidence, GaugeErrors, Hold, Site};
pub use explain::{Speaks, speaks};
pub use history::{Course, Stretch, course};
pub use items::Item;
pub use next_test::{NEXT_TESTS, NextTest, Ranked};
