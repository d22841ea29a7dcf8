//! Which causes a run's diagnoses named, held against what was so.

use tankhand::owner::{Defect, Performance};
use tankhand::physics::diagnosis::CauseId::{self, *};
use tankhand::physics::diagnosis::{CAUSES, Group, NEXT_TESTS, Weight};
use tankhand::record::EntryKind;

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

/// What a run's diagnoses said of causes.
#[derive(Clone, Debug)]
pub struct Named {
    /// Whether each fault that a diagnosis can name was among those named.
    pub truth: bool,
    /// Causes that were called sure, and how many of them were not so.
    pub sure: usize,
    pub wrong: Vec<String>,
}

/// What faults are called.
pub fn causes_of(faults: &[&'static Defect]) -> Vec<&'static [CauseId]> {
    let of =
        |fault: &&&Defect| CAUSES_OF.iter().find(|(name, _)| *name == fault.name).map(|(_, causes)| *causes);
    faults.iter().filter_map(|fault| of(&fault)).collect()
}

impl Named {
    /// What was said in a run at these faults; nothing where no diagnosis was made.
    pub fn of(done: &Performance, faults: &[&'static Defect]) -> Option<Named> {
        let findings = done.entries.iter().filter(|entry| entry.kind == EntryKind::Finding);
        let told: Vec<(&str, String)> = findings
            .filter(|entry| entry.take.is_some())
            .map(|entry| {
                let words =
                    [&entry.said, &entry.next].map(|words| words.clone().unwrap_or_default()).join(" ");
                (entry.given.as_deref().unwrap_or_default(), words)
            })
            .collect();
        if told.is_empty() {
            return None;
        }
        let truths = causes_of(faults);
        let names = |cause: &CauseId| {
            let name = cause.cause().name;
            told.iter().any(|(given, words)| *given == name || words.contains(name))
        };
        let is_so =
            |name: &str| truths.iter().flat_map(|all| all.iter()).any(|cause| cause.cause().name == name);
        let row = |name: &str| CAUSES.iter().find(|cause| cause.name == name && cause.weight > Weight::Note);
        let sure: Vec<&str> =
            told.iter().map(|(given, _)| *given).filter(|given| row(given).is_some()).collect();
        let wrong = sure.iter().filter(|name| !is_so(name)).map(ToString::to_string).collect();
        Some(Named { truth: truths.iter().all(|all| all.iter().any(names)), sure: sure.len(), wrong })
    }
}

/// The test that would have told a fault from a sound installation soonest, at even odds.
pub fn best_test(faults: &[&'static Defect]) -> String {
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
