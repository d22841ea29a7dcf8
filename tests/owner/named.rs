//! Which causes a run's diagnoses named, held against what was so.

use tankhand::owner::{Defect, Household};
use tankhand::physics::diagnosis::CauseId::{self, *};
use tankhand::physics::diagnosis::{CAUSES, Group, NEXT_TESTS, Weight};
use tankhand::quantity::PSI;
use tankhand::record::{Entry, EntryKind};

use crate::performance::Performance;

/// What each fault is called by a diagnosis; faults that none can name have no row.
const CAUSES_OF: &[(&str, &[CauseId])] = &[
    ("precharge-low", &[Low, Waterlogged, AirLeak]),
    ("precharge-high", &[High]),
    ("waterlogged", &[Waterlogged, Low, AirLeak]),
    ("torn", &[Torn]),
    ("torn-dry", &[Torn]),
    ("torn-sealing", &[Torn, Trapped]),
    ("stuck", &[Stuck]),
    ("outlet-blocked", &[Blocked]),
    ("valve-shut", &[Shut]),
    ("water-trapped", &[Trapped]),
    ("air-leak", &[AirLeak, Low, Waterlogged]),
    ("plate-wrong", &[Plate]),
    ("cut-in-drifted", &[Drifted]),
    ("nipple-plugged", &[Nipple]),
    ("switch-far", &[Apart]),
    ("differential-small", &[Narrow]),
    ("cut-out-unreachable", &[Unreached]),
    ("contacts-welded", &[Welded]),
    ("pump-short", &[ShortFlow]),
    ("tank-small", &[TooSmall]),
    ("check-valve", &[CheckValve]),
    ("house-leak", &[House]),
    ("relief-weeps", &[Weeping]),
    ("line-gauge-off", &[LineOff]),
    ("air-gauge-off", &[AirOff]),
];

/// What is so at a fault though it is not its name: a precharge that is right by the label of a switch that
/// starts the pump 8 psi lower lies above the cut-in that is watched.
const ALSO_SO: &[(&str, &[CauseId])] = &[("cut-in-drifted", &[High])];
/// What a stop calls faults at which a run ends before all is diagnosed: its words name at most three causes.
const BY_STOP: &[(&str, &[&str])] = &[
    ("pump does not start or stop", &["contacts-welded", "cut-out-unreachable", "pump-dead"]),
    ("pump does not fill the tank", &["contacts-welded", "cut-out-unreachable", "pump-dead"]),
    ("pump does not stop", &["contacts-welded", "cut-out-unreachable"]),
    ("no water from the tank", &["valve-shut", "outlet-blocked"]),
    ("tank was shut off", &["valve-shut"]),
];
/// The precharge is off by the switch as it works where it lies outside of this, psi below cut-in.
const IN_ORDER: std::ops::Range<f64> = 0.0..8.0;
/// What leads to the names of causes in a finding.
const NAMING: [&str; 4] = ["Likeliest: ", "Else: ", "Beside that: ", "or it may be: "];
/// Faults of the precharge.
const OF_PRECHARGE: &[&str] = &["precharge-low", "precharge-high", "waterlogged"];

/// Faults.
pub type Faults = [&'static Defect];

/// What a run's diagnoses said of causes.
#[derive(Clone, Debug)]
pub struct Named {
    /// Whether each fault that a diagnosis can name was among those named; nothing where there is none.
    pub truth: Option<bool>,
    /// Every cause that was named, sure or not.
    pub causes: Vec<&'static str>,
    /// Causes that were called sure, and how many of them were not so.
    pub sure: usize,
    pub wrong: Vec<String>,
}

/// What faults are called.
pub fn causes_of(faults: &Faults) -> Vec<&'static [CauseId]> {
    let of =
        |fault: &&&Defect| CAUSES_OF.iter().find(|(name, _)| *name == fault.name).map(|(_, causes)| *causes);
    faults.iter().filter_map(|fault| of(&fault)).collect()
}

impl Named {
    /// What was said in a run where these faults were claimed of those that there were; nothing where no
    /// diagnosis was made.
    pub fn of(done: &Performance, home: &Household, [there, claimed]: [&Faults; 2]) -> Option<Named> {
        let findings = || done.entries.iter().filter(|entry| entry.kind == EntryKind::Finding);
        let told: Vec<(&str, String)> = findings()
            .filter(|entry| entry.take.is_some())
            .map(|entry| (entry.given.as_deref().unwrap_or_default(), causes_named(entry)))
            .collect();
        if told.is_empty() {
            return None;
        }
        let by_word: Vec<&str> = done.entries.iter().filter_map(|entry| entry.given.as_deref()).collect();
        let stopped = |fault: &Defect| {
            BY_STOP.iter().any(|(word, faults)| faults.contains(&fault.name) && by_word.contains(word))
        };
        let names = |cause: &CauseId| {
            let name = cause.cause().name;
            told.iter().any(|(given, words)| *given == name || words.contains(name))
        };
        let found = |fault: &&'static Defect| {
            let causes = causes_of(&[fault]);
            Some(stopped(fault) || causes.first()?.iter().any(names)).filter(|_| is_fault(home, fault))
        };
        let truths: Vec<bool> = claimed.iter().filter_map(found).collect();
        let also = ALSO_SO.iter().filter(|(name, _)| there.iter().any(|fault| fault.name == *name));
        let so: Vec<&CauseId> =
            causes_of(there).into_iter().chain(also.map(|(_, causes)| *causes)).flatten().collect();
        let is_so = |name: &str| so.iter().any(|cause| cause.cause().name == name);
        let row = |name: &str| CAUSES.iter().find(|cause| cause.name == name && cause.weight > Weight::Note);
        let sure: Vec<&str> =
            told.iter().map(|(given, _)| *given).filter(|given| row(given).is_some()).collect();
        let wrong = sure.iter().filter(|name| !is_so(name)).map(ToString::to_string).collect();
        let truth = (!truths.is_empty()).then(|| truths.iter().all(|told| *told));
        let causes = CAUSES.iter().filter(|cause| names(&cause.id)).map(|cause| cause.name).collect();
        Some(Named { truth, causes, sure: sure.len(), wrong })
    }
}

/// The sentences of a finding in which causes are named, and no others: what was not tested is not named.
fn causes_named(entry: &Entry) -> String {
    let words = [&entry.said, &entry.next].map(|words| words.clone().unwrap_or_default()).join(" ");
    let names = |sentence: &&str| NAMING.iter().any(|lead| sentence.contains(lead));
    words.split(". ").filter(names).collect::<Vec<_>>().join(". ")
}

/// Whether a fault is one where the switch works as it does: the precharge is held against the cut-in.
fn is_fault(home: &Household, fault: &Defect) -> bool {
    let gap = home.site.tanks.first().map_or(0.0, |tank| (home.site.switch.cut_in - tank.precharge) / PSI);
    !OF_PRECHARGE.contains(&fault.name) || !IN_ORDER.contains(&gap)
}

/// The test that would have told a fault from a sound installation soonest, at even odds.
pub fn best_test(faults: &Faults) -> String {
    let best = |causes: &&'static [CauseId]| {
        let group: Group = causes[0].cause().group;
        let mut even = vec![0.0; CAUSES.len()];
        (even[causes[0] as usize], even[group.causes()[0].id as usize]) = (0.5, 0.5);
        let tests = NEXT_TESTS.iter().filter(|test| test.group == group);
        let best = tests.max_by(|a, b| a.bits(&even).total_cmp(&b.bits(&even)));
        best.map_or("", |test| test.says).to_string()
    };
    causes_of(faults).iter().map(best).collect::<Vec<_>>().join("; ")
}
