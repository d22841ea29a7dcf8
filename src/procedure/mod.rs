//! Procedures: from TOML text to steps whose every expression has its kind.
//!
//! Loading goes in stages, each a file: a document is [drafted](draft) (keys and strings, with
//! their places), parts are put in place ([expand]), everything is [checked](checking) in the
//! order of the steps, and the whole is [proven](prove) along its paths. Draft and checked are
//! different types; what the engine gets cannot be half-checked.

mod bind;
mod checking;
mod draft;
mod facts;
mod fold;
mod functions;
mod interface;
mod keys;
mod limits;
mod load;
mod model;
mod naming;
mod parts;
mod prove;
mod shipped;
mod steps;

pub use functions::{function, functions};
pub use keys::{FACT_KEYS, FILE_KEYS, Key, OWN_KEYS, PART_KEYS, STATE_KEYS, STEP_KEYS, Takes, VERB_KEYS};
pub use load::{PartAlone, Path, Surroundings, Texts, check_expression, load, load_beside, load_part, title};
pub use model::{Fact, Limits, Procedure, State, Step, Tells, Usual};
pub use parts::Shelf;
pub use shipped::{SHIPPED, Shipped, shipped};
pub use steps::{
    Action, Check, Choice, Choose, Compute, Do, Each, Read, Repeat, Stop, StopOutcome, VERBS, Verb, Wait,
    Write, WriteKind,
};
