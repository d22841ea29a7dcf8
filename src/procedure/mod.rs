//! Procedures: from TOML text to steps whose every expression has its kind.
//!
//! Loading goes in stages, each a file: `draft` takes keys and strings with their places, `parts`
//! and `bind` put parts in place, each checked and proven alone, `checking` takes everything in the
//! order of the steps, and `prove` walks the paths. Draft and checked are different types; what the engine gets cannot be half-checked.
//!
//! What a step is, its verb (in `steps`) alone knows. Everyone else sees an [`Action`]: what a run does
//! there ([`Course`]), what is asked ([`Asks`]), and how it reads on paper ([`Paper`]).

mod answers;
mod asked;
mod asked_facts;
mod asked_words;
mod asks_by_itself;
mod bind;
mod bind_words;
mod binding;
mod check_steps;
mod checking;
mod compare;
mod contract;
mod draft;
mod draft_otherwise;
mod drafting;
mod expected;
mod fact;
mod facts;
mod fold;
#[expect(clippy::wildcard_enum_match_arm, reason = "a function takes one sort of value")]
mod functions;
mod gathered;
mod hazards;
mod interface;
mod keys;
mod leave_out;
mod limits;
mod load;
mod mentions;
mod model;
mod name_origin;
mod naming;
mod no_value;
mod observables;
mod origin;
mod otherwise;
mod own_parts;
mod paper;
mod parts;
mod place;
mod prove;
mod question;
mod shelf;
mod shipped;
mod shipped_states;
mod shown;
mod step;
mod steps;
mod surroundings;
mod verb;
mod without;

pub use asked_facts::{AskedFact, asked_facts};
pub use asked_words::unasked_in_own_steps;
pub(crate) use asks_by_itself::Needed;
pub use compare::{Difference, FileComparison, compare};
pub use fact::Fact;
pub(crate) use fact::{NOT_KNOWN, Usual};
pub(crate) use functions::functions;
pub use functions::{CALC_QUESTIONS, function};
pub use hazards::{FigureStands, HAZARDS, Hazard, HazardFigure, Signal, Warning, hazard};
pub(crate) use keys::{FACT_KEYS, FILE_KEYS, Key, PART_KEYS, STATE_KEYS, STEP_KEYS, Takes};
pub use leave_out::LeftOutPart;
pub(crate) use limits::LONGEST_WAIT;
pub(crate) use load::{PartAlone, load_beside, load_part};
pub use load::{check_expression, load, with_usual_units};
pub use model::Procedure;
pub(crate) use model::flat;
pub use observables::{OBSERVABLES, Observable, Observed, Range, gauges, observable};
pub use otherwise::Otherwise;
pub use paper::{Paper, PaperLine, Slot};
pub use prove::shown_by;
pub use question::{ACKNOWLEDGE, Accepted, Answer, AnswerKind, Number, Question, Refusal};
pub(crate) use question::{AtHand, GaugeAt};
pub(crate) use shelf::Shelf;
pub use shipped::{SHIPPED, shipped};
pub(crate) use shipped::{is_shipped, part_name, twin};
pub use shipped_states::{ShippedPart, bringers, means, shipped_parts, shipped_states};
pub use shown::Use;
pub use step::{Action, Asks, Check, Course, Step, Stop, time_of};
pub(crate) use step::{Compute, Conclude, Diagnose, LoopKind, Repeat, Statement, StopOutcome};
pub use steps::VERBS;
pub(crate) use steps::own_keys;
pub use surroundings::{LoadContext, NoParts, Path, Texts, UnreadableText};
pub(crate) use verb::Verb;
pub use without::Waiver;
