//! What is wrong with a well system, by all that was read and seen of it.
//!
//! Diagnosis from models: each cause predicts what would be observed, by the same physics; all evidence
//! with its uncertainties gives each cause a probability (J. de Kleer and B. C. Williams, "Diagnosing
//! Multiple Faults", Artificial Intelligence 32, 1987, is the idea; the models are this project's).
//! What is a judgement, priors and tables of words, stands in one place each: `causes`, `words`,
//! `next_test`, `decision`.

mod cause;
mod causes;
mod causes_beside;
mod causes_of_tank;
mod claims;
mod decision;
mod density;
mod evidence;
mod evidence_against_good;
mod explain;
mod history;
mod items;
mod judge;
mod leaks;
mod misread;
mod next_test;
mod posterior;
mod run_time;
mod switch;
mod tank;
mod tank_laws;
mod words;

pub use cause::{Cause, CauseId, Group, Weight, Who};
pub use causes::CAUSES;
pub use claims::{Claims, SURE};
pub use decision::{COSTS, Working};
pub use evidence::{EarlierPrecharge, Evidence, GaugeErrors, HoldLoss, WellSite};
pub use explain::{Speaks, speaks};
pub use history::{AirCourse, Stretch, course};
pub use items::Item;
pub use judge::{Diagnosis, NamedCause, Odd, diagnose};
pub use next_test::{NEXT_TESTS, NextTest, Ranked};
pub use words::is_answer;
