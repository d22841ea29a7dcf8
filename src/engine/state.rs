//! Where a run stands and what it knows.

use std::collections::{HashMap, HashSet, VecDeque};
use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::findings::Findings;
use super::frames::Frames;
use super::holding::HoldingStates;
use super::judgement::CheckDerivation;
use super::names::NameValues;
use super::observations::{Diagnosed, Observation};
use super::setting::Setting;
use super::warned::Warned;
use crate::clock::Moment;
use crate::lang::{Explanation, Value};
use crate::quantity::SourceId;
use crate::record::{Outcome, Provenance};

/// The heading over the facts.
const FIRST_SECTION: &str = "What must be known first";

/// Where a run stands and what it knows.
#[derive(Clone, Debug, Default)]
pub(super) struct RunState {
    /// Facts still to be known, by their places in the procedure.
    pub facts: VecDeque<usize>,
    /// Which tank the facts about a tank are of, once an `each` has begun.
    pub facts_of: Option<usize>,
    /// What is known of each tank.
    pub known_of_tanks: HashMap<(usize, Arc<str>), Value>,
    pub frames: Frames,
    pub names: NameValues,
    /// The states that hold.
    pub holding: HoldingStates,
    /// The heading of the part of the work.
    pub section: Option<String>,
    /// Whether the next step's `when` has been looked at.
    pub entered: bool,
    /// What the person was warned of.
    pub warned: Warned,
    /// Readings of the next step, when it takes several.
    pub takes: Vec<Value>,
    /// Which step's repeated readings a spread, or a rounding in common, is that of.
    pub spreads: HashMap<SourceId, Arc<str>>,
    /// What is called a source of uncertainty that an expression made.
    pub limits: HashMap<SourceId, String>,
    /// How each step that works something out came to its newest result.
    pub explained: HashMap<Arc<str>, Explanation>,
    /// How many answers are in effect, without what leads in to one.
    pub answered: usize,
    /// Whether nothing was told since the last answer, so that what is told next takes the place of these.
    pub shown_before: bool,
    /// The steps whose results were told last.
    pub shown_results: Vec<Arc<str>>,
    /// The checks told last.
    pub check_derivation: Vec<CheckDerivation>,
    /// The diagnoses told last.
    pub diagnosed: Vec<Diagnosed>,
    /// The steps that said what they worked out, ever.
    pub spoken: HashSet<Arc<str>>,
    /// What was read and seen, under what it is of.
    pub observations: Vec<Observation>,
    /// Where values come from.
    pub provenance: FxHashMap<Arc<str>, Provenance>,
    /// What was found so far.
    pub findings: Findings,
    /// With which words the work ends, as it is not so.
    pub stop: Option<String>,
    pub wait_begun: Option<Moment>,
    pub ended: Option<(Outcome, String)>,
}

impl RunState {
    /// Something is told: what was told before the last answer is not the newest any more.
    pub(super) fn tells_anew(&mut self) {
        if std::mem::take(&mut self.shown_before) {
            self.shown_results.clear();
            self.check_derivation.clear();
            self.diagnosed.clear();
        }
    }

    pub(super) fn new(setting: &Setting) -> RunState {
        let mut names = NameValues::new(setting.confidence());
        for left in &setting.procedure.left_out {
            left.names.iter().for_each(|name| names.unknown(name, format!("{}.", left.why())));
        }
        let facts = setting.facts_to_know().collect();
        RunState { facts, names, section: Some(FIRST_SECTION.to_string()), ..RunState::default() }
    }
}
